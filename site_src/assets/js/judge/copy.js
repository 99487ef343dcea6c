// Is a copy of the catalogue of one piece, and how old is it? From what a page knows of itself. Pure.
(function () {
  "use strict";

  const MARK = /^[0-9a-f]{32}$/;
  const { counted, daysBetween, filled } = spares.judge;

  /** Every file that judges must be there, whole, and of the same build as the page: each ends with a stamp of its build
   * (generator/edge/site/build_identity.py), so that what was cut off has none.
   * @param {KnownOfCopy} known @returns {CopyState} */
  function stateOf(known) {
    if (!MARK.test(known.own)) return "broken";
    if (known.stamps.some((stamp) => stamp[1] !== known.own)) return "mixed";
    if (known.hasFailed) return "broken";
    if (!known.hasEnded) return known.isLoading ? "loading" : "broken";
    const stamped = new Set(known.stamps.map((stamp) => stamp[0]));
    return known.awaited.every((path) => stamped.has(path)) ? "whole" : "broken";
  }

  /** How old it is, as a state and the line that says it; what is amiss with it is said first.
   * @param {Rules} rules @param {string} day ISO date @param {CopyState} copy
   * @returns {{ state: "good" | "old" | "clock" | "mixed" | "broken", line: string }} */
  function ageOf(rules, day, copy) {
    const { built_on, max_copy_age_days, words } = rules;
    const n = daysBetween(built_on, day);
    if (n === null || !Number.isInteger(max_copy_age_days)) throw new Error("the age of this copy cannot be told");
    const facts = { built_on, max_copy_age_days: String(max_copy_age_days), n: String(n), day };
    if (copy === "mixed" || copy === "broken") return { state: copy, line: words.copy[copy] };
    if (n < 0) return { state: "clock", line: filled(words.copy.clock, facts, words) };
    if (n > max_copy_age_days) return { state: "old", line: filled(words.copy.too_old, facts, words) };
    if (n === 0) return { state: "good", line: filled(words.copy.today, facts, words) };
    return { state: "good", line: counted(words.copy.age, n, facts, words) };
  }

  spares.judge = { ...spares.judge, stateOf, ageOf };
})();
