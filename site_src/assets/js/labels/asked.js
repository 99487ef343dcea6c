// Which pieces does an address ask for? Its key however it is written, for a link out of a mail may hold "&amp;" in place of "&"; a
// batch under a key of another name, known or not, asks which piece it is. Pure.
(function () {
  "use strict";

  const NAME = "batch";
  const REVISION = ["revision", "rev"];
  const LONGEST = 200;
  /** Keys of other things that pages know. */
  const OTHERS = ["vehicle", "part"];
  /** A key that can only have meant a batch, whatever stands behind it. */
  const NEARLY = /^(?:b|batch.*)$/;

  /** @param {string} key */
  const plain = (key) => key.trim().toLowerCase().replace(/^(?:amp;)+/, "");

  /** Whether a text holds the number of one of the batches.
   * @param {string} text @param {string[]} names */
  const holds = (text, names) => Boolean(text) && names.some((name) => spares.labels.squashed(text).includes(spares.labels.squashed(name)));

  /** Whether a key of another name, or what stands behind it, can only have meant a piece.
   * @param {string} key @param {string} value @param {string[]} names the part's batches */
  const meansPiece = (key, value, names) => Boolean(value) && (NEARLY.test(key) || Boolean(spares.labels.asBatch(value)) || holds(value, names));

  /** Whether a key and what stands behind it ask for a piece.
   * @param {string} key @param {string} value @param {string[]} names the part's batches */
  const asksPiece = (key, value, names) => plain(key) === NAME || (!OTHERS.includes(plain(key)) && meansPiece(plain(key), value.trim().slice(0, LONGEST), names));

  /** A batch with the revision that stands beside it in the address, as a label says both; of two no label reads anything.
   * @param {string} batch @param {string[]} revisions */
  function withRevision(batch, revisions) {
    const [one, ...others] = new Set(revisions.map((each) => each.toUpperCase()));
    if (!batch || !one) return batch;
    return others.length ? `? revision ${[one, ...others].join(", ")}: not ${batch} ?` : `Rev. ${one} ${batch}`;
  }

  /** What the address says of the piece, one text for each; one that no label reads for a batch under another key, or for a revision alone.
   * @param {[string, string][]} pairs keys and values, in the order of the address @param {string[]} names */
  function piecesAsked(pairs, names) {
    const revisions = pairs.filter(([key, value]) => REVISION.includes(plain(key)) && value.trim() && !holds(value.trim(), names)).map(([, value]) => value.trim());
    const asking = pairs.filter(([key, value]) => asksPiece(key, value, names));
    if (!asking.length) return revisions.map((each) => `Rev. ${each.toUpperCase()}`.slice(0, LONGEST));
    return asking.map(([key, value]) => (plain(key) === NAME ? withRevision(value.trim(), revisions) : `? ${plain(key)}: not ${value.trim()} ?`).slice(0, LONGEST));
  }

  /** What the address asks for; two pieces as two, null for none.
   * @param {[string, string][]} pairs @param {string[]} names */
  function pieceAsked(pairs, names) {
    const asked = piecesAsked(pairs, names);
    const named = [...new Set(asked.filter(Boolean))];
    return named.length > 1 ? named.join(", ").slice(0, LONGEST) : named[0] ?? asked[0] ?? null;
  }

  /** What stands behind a key, however it is written; the last of several.
   * @param {[string, string][]} pairs @param {string} key */
  const askedAs = (pairs, key) => pairs.filter(([each]) => plain(each) === key).map(([, value]) => value).pop() ?? "";

  spares.labels = { ...spares.labels, askedAs, asksPiece, pieceAsked, piecesAsked };
})();
