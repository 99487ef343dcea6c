// Why this verdict, in one line? The same words as generator/pages/verdict_lines.py. Pure.
(function () {
  "use strict";

  /** Questions about the permit itself. */
  const OF_THE_PERMIT = ["begun", "lasts", "unchanged", "taken_over", "reviewed", "place", "asked_about", "evidence", "authority", "authority_alone"];

  /** @param {Facts} facts */
  const hasNoPermit = (facts) => facts.permit === null || facts.permit === undefined;

  /** Where other vehicles alone are approved, the stage does not say "approved" of these.
   * @param {Facts} facts */
  function toldOf(facts) {
    if (!hasNoPermit(facts) || facts.stage !== "approved") return facts;
    return { ...facts, stage: "approved elsewhere", stage_since: null };
  }

  /** @param {{ decidedBy: { id: string, outcome: string } | null, facts: Facts }} told @param {Words} words
   * @returns {string} */
  function reasonFor(told, words) {
    const decided = told.decidedBy;
    const line = decided ? words.steps[decided.id][decided.outcome] : words.reasons[String(told.facts.permit)];
    if (typeof line !== "string" || line === "") throw new Error("there are no words for the reason");
    return spares.judge.filled(line, decided ? toldOf(told.facts) : told.facts, words);
  }

  /** What else forbids it, beside the reason: all of it is told of a piece in the hand.
   * @param {Judgement} told @param {Rules} rules @returns {string[]} */
  function alsoFor(told, rules) {
    const forbids = new Set(rules.table.filter((step) => step.otherwise === "no").map((step) => step.id));
    if (told.verdict !== "no") return [];
    return told.steps
      .filter((step) => step.outcome === "failed" && step.id !== told.decidedBy?.id && forbids.has(step.id))
      .map((step) => foundBy(step, told.facts, rules.words).found);
  }

  /** What the maintenance plan keeps by any of these permits, each once.
   * @param {Facts[]} permits those in force @param {Words} words @returns {string[]} */
  function inServiceBy(permits, words) {
    const kept = permits.flatMap((facts) => (Array.isArray(facts.in_service) ? facts.in_service : []));
    return [...new Set(kept)].map((condition) => spares.judge.filled(words.in_service, { condition }, words));
  }

  /** What a question found, and what it needs; without any permit, what asks about the permit has nothing to judge.
   * @param {{ id: string, outcome: string }} step @param {Facts} facts @param {Words} words
   * @returns {{ found: string, needed: string }} */
  function foundBy(step, facts, words) {
    const said = words.steps[step.id];
    const nothing = hasNoPermit(facts) && step.outcome === "unknown" && OF_THE_PERMIT.includes(step.id);
    const line = nothing ? words.no_permit : said[step.outcome];
    if (typeof line !== "string" || line === "") throw new Error("there are no words for what was found");
    const told = toldOf(facts);
    const needed = nothing || step.outcome === "passed" ? "" : spares.judge.filled(said.needed, told, words);
    return { found: spares.judge.filled(line, told, words), needed };
  }

  /** Failed, unknown, passed, each in the table's order.
   * @param {Taken[]} steps @returns {Taken[]} */
  function failedFirst(steps) {
    return ["failed", "unknown", "passed"].flatMap((outcome) => steps.filter((step) => step.outcome === outcome));
  }

  /** The files behind a question, each once; those that the part's data do not know are left out.
   * @param {string} step @param {Facts} facts @param {Record<string, string[]>} named @param {Record<string, OpenFile>} files
   * @returns {OpenFile[]} */
  function filesBehind(step, facts, named, files) {
    const paths = (named[step] || []).flatMap((fact) => facts[fact] || []);
    return [...new Set(paths)].map((path) => files[path]).filter(Boolean);
  }

  spares.judge = { ...spares.judge, reasonFor, alsoFor, inServiceBy, failedFirst, foundBy, filesBehind };
})();
