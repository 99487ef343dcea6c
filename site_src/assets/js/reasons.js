// Why this verdict, in one line? The same words as generator/pages/verdict_lines.py. Pure.
(function (root) {
  "use strict";

  /** @param {{ decidedBy: { id: string, outcome: string } | null, facts: Record<string, any> }} told @param {any} words
   * @returns {string} */
  function reasonFor(told, words) {
    const decided = told.decidedBy;
    const line = decided ? words.steps[decided.id][decided.outcome] : words.reasons[told.facts.permit];
    if (typeof line !== "string" || line === "") throw new Error("there are no words for the reason");
    return root.spares.filled(line, told.facts, words);
  }

  root.spares = Object.assign(root.spares || {}, { reasonFor });
})(/** @type {any} */ (globalThis));
