// What is known of the piece in the hand, by the batch on its label? Its facts take the place of those of any piece. Pure.
(function () {
  "use strict";

  /** The facts of each permit for a piece of a batch; of one that this copy does not have, that it is not known which it is.
   * Throws where what is told of a batch is not whole: the caller then keeps the careful form of the page.
   * @param {Facts[]} permits @param {number[][]} rows what each permit says of a piece of each batch, as places in `pieces`
   * @param {string} batch "" for a piece without one @param {{ batches: [string, string][], pieces: Facts[], mistaken?: Record<string, string> }} told
   * @param {Facts} unknown what is told of a piece of which nothing is known @param {Facts | null} [against] what speaks against it
   * besides: it is known to be of another part, or its label does not agree @returns {Facts[]} */
  function ofPiece(permits, rows, batch, told, unknown, against = null) {
    if (!unknown || unknown.piece !== "unknown") throw new Error("it is not told what is known of no piece");
    const at = batch ? told.batches.findIndex(([name]) => name === batch) : -1;
    const where = batch && !against && told.mistaken && told.mistaken[batch];
    /** @type {Facts} */
    const broken = where ? { piece: "mistaken", piece_batch: batch, piece_unread: [where] } : {};
    /** @type {Facts} */
    const strange = against ? { piece_batch: batch, ...against } : {};
    if (at < 0) return permits.map((facts) => ({ ...facts, ...unknown, ...broken, ...strange }));
    return permits.map((facts, nth) => {
      const own = told.pieces[rows[nth][at]];
      if (!own || own.piece_batch !== batch) throw new Error(`what is known of batch ${batch} is not told`);
      return { ...facts, ...unknown, ...own, ...strange };
    });
  }

  /** What of a piece that is of another part speaks against fitting it anywhere: a recall, and that it is not this part.
   * @param {FinderData} data @param {PartRecord} record of that part @param {string} batch @returns {Facts} */
  function againstOther(data, record, batch) {
    const at = (record.batches || []).findIndex(([name]) => name === batch);
    const told = record.grounds.flatMap((ground) => (ground[5] || []).map((row) => data.pieces[row[at]])).filter(Boolean);
    const stopped = told.find((piece) => piece.piece_recalled_on) || {};
    const recall = Object.fromEntries(["piece_recalled_on", "piece_recalled_for", "piece_recall", "piece_lot"].filter((name) => stopped[name]).map((name) => [name, stopped[name]]));
    return { ...recall, piece_batch: batch, piece_same: "other part" };
  }

  spares.judge = { ...spares.judge, againstOther, ofPiece };
})();
