// What is known of the piece in the hand, by the batch on its label? Its facts take the place of those of any piece. Pure.
(function () {
  "use strict";

  /** The facts of each permit for a piece of a batch; of one that this copy does not have, that it is not known which it is.
   * Throws where what is told of a batch is not whole: the caller then keeps the careful form of the page.
   * @param {Facts[]} permits @param {number[][]} rows what each permit says of a piece of each batch, as places in `pieces`
   * @param {string} batch "" for a piece without one @param {{ batches: [string, string][], pieces: Facts[] }} told
   * @param {Facts} unknown what is told of a piece of which nothing is known @param {boolean} [isOther] the batch is known to be
   * of another part, or its label says so, so that it was not printed as this one @returns {Facts[]} */
  function ofPiece(permits, rows, batch, told, unknown, isOther = false) {
    if (!unknown || unknown.piece !== "unknown") throw new Error("it is not told what is known of no piece");
    const at = batch ? told.batches.findIndex(([name]) => name === batch) : -1;
    /** @type {Facts} */
    const strange = isOther ? { piece_batch: batch, piece_same: "no" } : {};
    if (at < 0 || isOther) return permits.map((facts) => ({ ...facts, ...unknown, ...strange }));
    return permits.map((facts, nth) => {
      const own = told.pieces[rows[nth][at]];
      if (!own || own.piece_batch !== batch) throw new Error(`what is known of batch ${batch} is not told`);
      return { ...facts, ...unknown, ...own };
    });
  }

  /** In capital letters, whatever kind of dash or blank was typed or scanned.
   * @param {string} text */
  const tidied = (text) => text.normalize("NFKC").toUpperCase().replace(/[\u2010-\u2015\u2212\u00ad_]/g, "-").replace(/\s+/g, " ").trim();

  /** A batch as a label writes it, of what somebody typed or scanned: "b 0147" is B-0147.
   * @param {string} text @returns {string} "" where it is no number of a batch */
  function asBatch(text) {
    const typed = /^([A-Z]{1,4}) ?-? ?([0-9]{1,8})$/.exec(tidied(text));
    return typed ? `${typed[1]}-${typed[2]}` : "";
  }

  /** The one of these that is meant: as it is written, or, where one alone has that number, with other zeros before it or
   * without its letters.
   * @param {string} text @param {string[]} names @returns {string | null} */
  function batchAmong(text, names) {
    const written = asBatch(text);
    if (names.includes(written)) return written;
    const bare = /^([A-Z]*) ?-? ?0*([0-9]{1,8})$/.exec(tidied(text));
    if (!bare) return null;
    const isMeant = (/** @type {string} */ name) => {
      const [letters, digits] = name.split("-");
      return Number(digits) === Number(bare[2]) && (!bare[1] || bare[1] === letters);
    };
    const found = names.filter(isMeant);
    return found.length === 1 ? found[0] : null;
  }

  spares.judge = { ...spares.judge, ofPiece, tidied, asBatch, batchAmong };
})();
