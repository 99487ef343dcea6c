// What does a label say, typed or scanned: the part's number, its revision and the batch? And does it agree with the part that is
// asked about? Which known number looks like one that was typed with a letter for a digit? Pure.
(function () {
  "use strict";

  const { asBatch, batchAmong, tidied } = spares.judge;
  const BATCH = "([A-Z]{1,4}) ?([0-9]{1,8})";
  const REVISION = "(?:REV(?:ISION)?\\.? ?)?([A-Z0-9]{1,4})";
  const WHOLE_BATCH = /^[A-Z]{1,4}-[0-9]{1,8}$/;
  /** Letters that are read as a digit, and the other way round. */
  const LOOKS = /** @type {Record<string, string>} */ ({ O: "0", I: "1", L: "1", S: "5", B: "8", Z: "2" });

  /** Apart from the signs between them.
   * @param {string} text */
  const apart = (text) => tidied(text).replace(/[-.·,;:|/()]+|\bREV\b\.?/g, " ").replace(/\s+/g, " ").trim();

  /** Of the address that a label's code holds.
   * @param {string} text @returns {LabelSaid | null} */
  function inAddress(text) {
    const batch = /[?#&]batch=([^&#\s]+)/i.exec(text);
    if (!batch) return null;
    const page = /\/parts\/([^/?#\s]+?)(?:\.html)?\/?[?#]/i.exec(text);
    try {
      return { number: page ? decodeURIComponent(page[1]).toUpperCase() : "", revision: "", batch: asBatch(decodeURIComponent(batch[1])) };
    } catch {
      return null; // cut off within a sign
    }
  }

  /** What stands beside the number: revision and batch in either order, or the batch alone.
   * @param {string} rest @param {string} number @returns {LabelSaid | null} */
  function besides(rest, number) {
    const last = new RegExp(`^${REVISION} ${BATCH}$`).exec(rest);
    if (last) return { number, revision: last[1], batch: `${last[2]}-${last[3]}` };
    const first = new RegExp(`^${BATCH}(?: ${REVISION})?$`).exec(rest);
    return first && { number, revision: first[3] || "", batch: `${first[1]}-${first[2]}` };
  }

  /** By the pieces of a text whose number is none that is known: the batch stands first or last.
   * @param {string} text @returns {LabelSaid | null} */
  function byPieces(text) {
    const pieces = tidied(text).replace(/ - |[·,;|/()]|\bREV\b\.?/g, " ").split(" ").filter(Boolean);
    const at = pieces.length < 2 ? -1 : WHOLE_BATCH.test(pieces[pieces.length - 1]) ? pieces.length - 1 : WHOLE_BATCH.test(pieces[0]) ? 0 : -1;
    if (at < 0) return null;
    const others = pieces.filter((_piece, nth) => nth !== at);
    const number = others.find((piece) => piece.length > 4 || /[.-]/.test(piece)) || "";
    return { number, revision: others.find((piece) => piece !== number && /^[A-Z0-9]{1,4}$/.test(piece)) || "", batch: pieces[at] };
  }

  /** What a label says; null where the text is none, or tells no batch. A number of a batch alone is one as well.
   * @param {string} text @param {string[]} numbers of the parts that are known @returns {LabelSaid | null} */
  function labelIn(text, numbers) {
    const address = inAddress(text);
    if (address) return address.batch ? address : null;
    const batch = asBatch(text);
    if (batch) return { number: "", revision: "", batch };
    const said = ` ${apart(text)} `;
    const found = numbers.filter((number) => said.includes(` ${apart(number)} `)).sort((one, other) => other.length - one.length);
    for (const number of found) {
      const told = besides(said.replace(` ${apart(number)} `, " ").trim(), number);
      if (told) return told;
    }
    return found.length ? null : byPieces(text);
  }

  /** @param {string} text */
  const looks = (text) => [...tidied(text).replace(/[^A-Z0-9]/g, "")].map((sign) => LOOKS[sign] || sign).join("");

  /** Of some names those that look like a text in which a letter stands for a digit, or a digit for a letter.
   * @param {string} text @param {string[]} names @returns {string[]} none where it is one of them, as it is written */
  function lookAlike(text, names) {
    const typed = looks(text);
    if (!typed || typed.length > 40 || names.includes(tidied(text))) return [];
    return [...new Set(names)].filter((name) => looks(name) === typed || looks(name.replace(/-0+/, "-")) === typed);
  }

  /** The batch that somebody typed or scanned in answer to which piece it is.
   * @param {string} text @param {{ number: string, batches: [string, string][], numbers: string[] }} of the part that is asked about
   * @returns {BatchRead} */
  function batchRead(text, of) {
    const names = of.batches.map(([name]) => name);
    const alone = batchAmong(text, names);
    const label = alone ? { number: "", revision: "", batch: alone } : labelIn(text, [of.number, ...of.numbers]);
    const batch = label ? batchAmong(label.batch, names) ?? label.batch : "";
    const known = of.batches.find(([name]) => name === batch);
    const isOther = Boolean(label?.number) && apart(label?.number || "") !== apart(of.number);
    const isOtherRevision = Boolean(label?.revision && known && known[1] !== label.revision);
    const last = text.trim().split(/\s+/).pop() || "";
    const meant = known ? [] : lookAlike(text, names).concat(lookAlike(last, names));
    return {
      batch, meant: [...new Set(meant)], wrong: isOther ? "label_number" : isOtherRevision ? "label_revision" : "",
      said: label ? (isOther ? label.number : label.revision) : "", revision: known ? known[1] : "",
    };
  }

  spares.judge = { ...spares.judge, labelIn, lookAlike, batchRead };
})();
