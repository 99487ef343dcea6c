// Which pieces does an address ask for? Its key however it is written, for a link out of a mail may hold "&amp;" in place of "&"; a
// batch under a key of another name asks which piece it is. Pure.
(function () {
  "use strict";

  const NAME = "batch";
  const LONGEST = 200;
  /** Keys of other things that a page of a part knows. */
  const OTHERS = ["vehicle"];

  /** @param {string} key */
  const plain = (key) => key.trim().toLowerCase().replace(/^(?:amp;)+/, "");

  /** Whether a text holds the number of one of the batches.
   * @param {string} text @param {string[]} names */
  const holds = (text, names) => Boolean(text) && names.some((name) => spares.labels.squashed(text).includes(spares.labels.squashed(name)));

  /** Whether a key and what stands behind it ask for a piece.
   * @param {string} key @param {string} value @param {string[]} names the part's batches */
  const asksPiece = (key, value, names) => plain(key) === NAME || (!OTHERS.includes(plain(key)) && holds(value.trim().slice(0, LONGEST), names));

  /** What the address says of the piece, one text for each; one that no label reads for a batch under another key.
   * @param {[string, string][]} pairs keys and values, in the order of the address @param {string[]} names */
  function piecesAsked(pairs, names) {
    return pairs.filter(([key, value]) => asksPiece(key, value, names)).map(([key, value]) => (plain(key) === NAME ? value.trim() : `? ${plain(key)}: not ${value.trim()} ?`).slice(0, LONGEST));
  }

  spares.labels = { ...spares.labels, asksPiece, piecesAsked };
})();
