// Which piece is in the hand? Its batch, as a label's code or a hand says it, for this visit of the page alone: what is said
// of one piece says nothing of the next.
//
// After "#" in the address, since a label's code is printed so; after "?" it is read as well. What a hand chooses takes the
// place of what the address said, so that a page that is loaded anew never goes back to another piece.
(function () {
  "use strict";

  const NAME = "batch";
  const LONGEST = 200;

  /** @returns {string | null} what the address asks for */
  function inAddress() {
    const asked = new URLSearchParams(location.hash.slice(1)).get(NAME) ?? new URLSearchParams(location.search).get(NAME);
    return asked === null ? null : asked.trim().slice(0, LONGEST);
  }

  /** The batch, "" for a piece without one, null where nobody has said.
   * @type {string | null} */
  let chosen = null;
  /** Whether it is known that a batch that the part does not have is of another part. */
  let isOther = false;

  /** @param {string} text @returns {string | null} */
  function meantBy(text) {
    const known = (globalThis.sparesPart?.batches || []).map(([name]) => name);
    return spares.judge.batchAmong(text, known) ?? (spares.judge.asBatch(text) || text);
  }

  function follow() {
    const asked = inAddress();
    if (asked) chosen = meantBy(asked);
  }

  function forgetAddress() {
    try {
      const next = new URL(location.href);
      for (const place of /** @type {("hash" | "search")[]} */ (["hash", "search"])) {
        const asked = new URLSearchParams(next[place].slice(1));
        if (!next[place].includes("=") || !asked.has(NAME)) continue;
        asked.delete(NAME);
        next[place] = asked.toString();
      }
      if (next.href !== location.href) history.replaceState(history.state, "", next.href);
    } catch {
      // a browser may refuse; the page keeps what was chosen as long as it stands
    }
  }

  /** The piece in the hand is of this batch from now on; "" has none on it, null: nobody says any more.
   * @param {string | null} batch */
  function choosePiece(batch) {
    chosen = batch ? meantBy(batch) : batch;
    isOther = false;
    if (inAddress() !== null && inAddress() !== chosen) forgetAddress();
    document.dispatchEvent(new CustomEvent("spares:piece"));
  }

  /** What is said of the piece in the hand, on the page of a part. */
  const piece = () => (globalThis.sparesPart ? chosen : null);

  /** The piece in the hand is known to be of another part: no verdict of this page is kinder than "Do not fit". */
  function pieceOfOther() {
    isOther = true;
    document.dispatchEvent(new CustomEvent("spares:piece"));
  }

  const isPieceOfOther = () => isOther;

  /** Of which revision that piece is; null where that is not known. */
  function pieceRevision() {
    const one = piece();
    const known = one ? (globalThis.sparesPart.batches || []).find(([name]) => name === one) : undefined;
    return known ? known[1] : null;
  }

  spares.screen = { ...spares.screen, piece, choosePiece, pieceRevision, pieceOfOther, isPieceOfOther };
  follow();
  window.addEventListener("hashchange", () => {
    const asked = inAddress();
    if (asked && meantBy(asked) !== chosen) choosePiece(asked);
  });
})();
