// Is the query the number of a batch, as a label carries it? Then its part is surely meant, and nothing else is. Pure.
//
// The whole query is the number, exactly: a piece of one, or one nearly like it, says nothing, for another piece is another
// answer. A part whose own number is written so comes first.
(function () {
  "use strict";

  const { numberKey } = spares.finder;
  const WEIGHT = 2;
  const WRITTEN = /^([a-z]{1,4})\s?[_\u2010-\u2015\u2212-]?\s?([0-9]{1,8})$/i;

  /** @param {string} text @returns {string} */
  function asLabelled(text) {
    const typed = WRITTEN.exec(text.trim());
    return typed ? `${typed[1].toUpperCase()}-${typed[2]}` : "";
  }

  /** The batch of a part that a query names; null where it names none.
   * @param {Index} index @param {string} query @returns {{ at: number, batch: string } | null} */
  function batchAsked(index, query) {
    const batch = asLabelled(query);
    if (!batch || index.numberOf.has(batch)) return null;
    const at = index.records.findIndex((record) => (record.batches || []).some(([name]) => name === batch));
    return at < 0 ? null : { at, batch };
  }

  /** What a query that is a batch's number finds.
   * @param {Index} index @param {{ at: number, batch: string }} asked @returns {Ranked} */
  function rankedBatch(index, { at, batch }) {
    const match = new Float32Array(index.records.length);
    match[at] = 1;
    const number = { key: numberKey(batch), short: "", at, text: batch, kind: "batch" };
    const numbers = new Map([[at, { match: 1, number, isWhole: true }]]);
    return { hits: [{ at, score: 1, sure: true }], items: [{ kind: "number", text: batch, weight: WEIGHT, match, least: 0.6, numbers }], sure: 1, said: "this", strange: "" };
  }

  /** The batch that a query named, of a record that was found by it; "" for none.
   * @param {Ranked} ranked @param {number} at */
  function batchFound(ranked, at) {
    const hit = ranked.items.map((item) => item.numbers?.get(at)?.number).find((number) => number?.kind === "batch");
    return hit ? hit.text : "";
  }

  spares.finder = { ...spares.finder, batchAsked, rankedBatch, batchFound };
})();
