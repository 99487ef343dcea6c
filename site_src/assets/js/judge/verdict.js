// May this part be fitted on this day? Reads the one table of questions, as generator/rules/verdicts.py does.
//
// Both are held to tests/rules/vectors.json. Pure.
(function () {
  "use strict";

  const { DAY_MS, dayNumber } = spares.judge;
  /** @type {Verdict[]} */
  const FROM_BEST_TO_WORST = ["fit", "ask", "no"];

  /** The six looks; each takes the fact, the step, the day and all facts. A look not known here is an error.
   * @type {Record<string, (value: FactValue, step: Step, day: number, facts: Facts) => string>} */
  const LOOKS = {
    "absent": (value) => passed(value === null || (Array.isArray(value) && value.length === 0)),
    "one of": (value, step) =>
      value === null ? "unknown" : passed(typeof value === "string" && step.needed.includes(value)),
    "begun": (value, _step, day) => dated(value, (noted) => noted <= day),
    "lasts": (value, _step, day) => (value === "open" ? "passed" : dated(value, (noted) => noted >= day)),
    "clock": (value, _step, day) => dated(value, (built) => built <= day),
    "young": (value, _step, day, facts) => {
      const age = has(facts, "max_copy_age_days") ? facts.max_copy_age_days : null;
      if (typeof age !== "string" || !/^[0-9]{1,4}$/.test(age)) return "unknown";
      return dated(value, (built) => (day - built) / DAY_MS <= Number(age));
    },
  };

  /** Ask every question of the table; the worst answer is the verdict, unknown never passes.
   * Throws where the table or the day cannot be read: the caller then keeps the careful form of the page.
   * @param {Facts} facts @param {string} day ISO date @param {Step[]} table @returns {Judgement} */
  function judged(facts, day, table) {
    const today = dayNumber(day);
    if (today === null) throw new Error(`not a day: ${day}`);
    if (!Array.isArray(table) || table.length === 0) throw new Error("no table of questions");
    if (facts === null || typeof facts !== "object") throw new Error("no facts");
    const steps = table.map((step) => taken(step, facts, today));
    const grade = (/** @type {Taken} */ step) =>
      FROM_BEST_TO_WORST.indexOf(step.isOpen ? "ask" : /** @type {Verdict} */ (table[steps.indexOf(step)].otherwise));
    let worst = 0;
    /** @type {Taken | null} */
    let decidedBy = null;
    // What is only left open by another fact is asked about, and the question that asks for it is the reason.
    for (const step of [...steps.filter((each) => !each.isOpen), ...steps.filter((each) => each.isOpen)]) {
      if (step.outcome === "passed" || grade(step) <= worst) continue;
      worst = grade(step);
      decidedBy = step;
    }
    const isInForce = steps.every((step, index) => step.outcome === "passed" || !table[index].tells_force);
    return { verdict: FROM_BEST_TO_WORST[worst], decidedBy, steps, facts, isInForce };
  }

  /** The most careful of the permits in force that speak of the same vehicle; the first where they are equal. Where
   * none is in force, none speaks: then the kindest tells what is missing.
   * @param {Facts[]} permits @param {string} day @param {Step[]} table @returns {Judgement} */
  function judgedTogether(permits, day, table) {
    if (!Array.isArray(permits) || permits.length === 0) throw new Error("no permit to judge");
    const grade = (/** @type {Judgement} */ each) => FROM_BEST_TO_WORST.indexOf(each.verdict);
    const judgements = permits.map((facts) => judged(facts, day, table));
    const inForce = judgements.filter((each) => each.isInForce);
    if (inForce.length) return inForce.reduce((worst, each) => (grade(each) > grade(worst) ? each : worst));
    return judgements.reduce((best, each) => (grade(each) < grade(best) ? each : best));
  }

  /** Facts once conditions before fitting are ticked, by their texts; what else is asked about stays.
   * Throws where the facts do not say their conditions as lists.
   * @param {Facts} facts @param {Set<string>} ticks @returns {Facts} */
  function withTicks(facts, ticks) {
    if (!ticks.size) return facts;
    const { before_fitting, unplanned } = facts;
    if (!Array.isArray(before_fitting) || !Array.isArray(unplanned)) throw new Error("the conditions cannot be read");
    const left = before_fitting.filter((text) => !ticks.has(text));
    const ticked = before_fitting.filter((text) => ticks.has(text));
    return { ...facts, conditions: [...left, ...unplanned], before_fitting: left, ticked };
  }

  /** @param {Step} step @param {Facts} facts @param {number} day @returns {Taken} */
  function taken(step, facts, day) {
    if (!has(LOOKS, step.test)) throw new Error(`a question of a kind not known here: ${step.test}`);
    if (!["ask", "no"].includes(step.otherwise)) throw new Error(`no such verdict: ${step.otherwise}`);
    if (!Array.isArray(step.needed)) throw new Error(`nothing needed by ${step.id}`);
    if (typeof step.tells_force !== "boolean") throw new Error(`it is not said whether ${step.id} tells the force`);
    if (!has(facts, step.fact)) return { id: step.id, outcome: "unknown", found: null };
    const found = facts[step.fact];
    const known = found === null || typeof found === "string" || Array.isArray(found);
    const outcome = known ? LOOKS[step.test](found, step, day, facts) : "unknown";
    if (outcome === "passed" && isLeftOpen(step, facts)) return { id: step.id, outcome: "unknown", found, isOpen: true };
    return { id: step.id, outcome: /** @type {Taken["outcome"]} */ (outcome), found };
  }

  /** Whether another fact leaves open what would pass here.
   * @param {Step} step @param {Facts} facts */
  function isLeftOpen(step, facts) {
    const noted = (step.open_by || []).map((name) => (has(facts, name) ? facts[name] : null));
    return noted.some((by) => (Array.isArray(by) ? by.length > 0 : Boolean(by)));
  }

  /** @param {boolean} does */
  function passed(does) {
    return does ? "passed" : "failed";
  }

  /** @param {FactValue} value @param {(noted: number) => boolean} holds */
  function dated(value, holds) {
    const noted = dayNumber(value);
    return noted === null ? "unknown" : passed(holds(noted));
  }

  /** @param {object} record @param {string} key */
  function has(record, key) {
    return Object.prototype.hasOwnProperty.call(record, key);
  }

  spares.judge = { ...spares.judge, judged, judgedTogether, withTicks };
})();
