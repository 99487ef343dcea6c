// Which piece is in the hand? Its batch, as a label's code or a hand says it, for this visit of the page alone: what is said
// of one piece says nothing of the next.
//
// After "#" in the address, since a label's code is printed so; after "?" it is read as well. What a hand chooses takes the
// place of what the address said, so that a page that is loaded anew never goes back to another piece.
(function () {
  "use strict";

  const ownBatches = () => (globalThis.sparesPart?.batches || []).map(([name]) => name);

  /** @returns {string | null} what the address asks for; two pieces as two */
  const inAddress = () => spares.labels.pieceAsked([location.hash, location.search].flatMap((text) => [...new URLSearchParams(text.slice(1))]), ownBatches());

  /** The batch, "" for a piece without one, null where nobody has said.
   * @type {string | null} */
  let chosen = null;
  /** What was typed or scanned, held against the part of this page.
   * @type {BatchRead | null} */
  let read = null;
  /** What speaks against the piece beside its batch.
   * @type {Facts | null} */
  let against = null;

  /** As it was typed or scanned. */
  let typed = "";

  /** @param {string | null} text */
  function take(text) {
    const part = globalThis.sparesPart;
    typed = text ? text.trim() : "";
    read = text && part ? spares.labels.batchRead(text, { number: part.number, batches: part.batches, numbers: [] }) : null;
    chosen = text ? read?.batch || spares.labels.asBatch(read?.meant.length ? "" : text) || text.trim() : text;
    against = read?.wrong === "label_number" || read?.wrong === "label_revision" ? { piece_same: "other label" } : null;
  }

  function follow() {
    const asked = inAddress();
    if (asked) take(asked);
  }

  function forgetAddress() {
    try {
      const next = new URL(location.href);
      for (const place of /** @type {("hash" | "search")[]} */ (["hash", "search"])) {
        const asked = new URLSearchParams(next[place].slice(1));
        const keys = [...asked].filter(([key, value]) => spares.labels.asksPiece(key, value, ownBatches())).map(([key]) => key);
        if (!next[place].includes("=") || !keys.length) continue;
        for (const key of keys) asked.delete(key);
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
    take(batch);
    if (inAddress() !== null && inAddress() !== batch) forgetAddress();
    document.dispatchEvent(new CustomEvent("spares:piece"));
  }

  /** What is said of the piece in the hand, on the page of a part. */
  const piece = () => (globalThis.sparesPart ? chosen : null);

  /** The piece in the hand is known to be of another part: no verdict of this page is kinder than "Do not fit".
   * @param {Facts} facts of judge/piece.js */
  function pieceOfOther(facts) {
    against = facts;
    document.dispatchEvent(new CustomEvent("spares:piece"));
  }

  const pieceAgainst = () => against;
  const pieceRead = () => read;
  const pieceTyped = () => typed;

  /** Of which revision that piece is; null where that is not known. */
  function pieceRevision() {
    const one = piece();
    const known = one ? (globalThis.sparesPart.batches || []).find(([name]) => name === one) : undefined;
    return known ? known[1] : null;
  }

  spares.screen = { ...spares.screen, piece, choosePiece, pieceRevision, pieceOfOther, pieceAgainst, pieceRead, pieceTyped };
  follow();
  window.addEventListener("hashchange", () => {
    const asked = inAddress();
    if (asked && asked !== typed) choosePiece(asked);
  });
})();
