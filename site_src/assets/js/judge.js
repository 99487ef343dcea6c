// May this part be fitted on this day? Reads the one table of questions, as generator/rules/verdicts.py does.
//
// Pure: no document, no clock. Both are held to tests/rules/vectors.json.
(function (root) {
  "use strict";

  /** @typedef {string | string[] | null} FactValue */
  /** @typedef {Record<string, FactValue>} Facts */
  /** @typedef {{ id: string, fact: string, test: string, needed: string[], otherwise: string, tells_force: boolean }} Step */
  /** @typedef {{ id: string, outcome: "passed" | "failed" | "unknown", found: FactValue }} Taken */
  /** @typedef {{ verdict: string, decidedBy: Taken | null, steps: Taken[], facts: Facts, isInForce: boolean }} Judgement */

  const FROM_BEST_TO_WORST = ["fit", "ask", "no"];
  const DAY_MS = 24 * 60 * 60 * 1000;

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
  function judge(facts, day, table) {
    const today = dayNumber(day);
    if (today === null) throw new Error(`not a day: ${day}`);
    if (!Array.isArray(table) || table.length === 0) throw new Error("no table of questions");
    if (facts === null || typeof facts !== "object") throw new Error("no facts");
    const steps = table.map((step) => taken(step, facts, today));
    const grade = (/** @type {number} */ index) => FROM_BEST_TO_WORST.indexOf(table[index].otherwise);
    let worst = 0;
    let decidedBy = null;
    steps.forEach((step, index) => {
      if (step.outcome === "passed" || grade(index) <= worst) return;
      worst = grade(index);
      decidedBy = step;
    });
    const isInForce = steps.every((step, index) => step.outcome === "passed" || !table[index].tells_force);
    return { verdict: FROM_BEST_TO_WORST[worst], decidedBy, steps, facts, isInForce };
  }

  /** The most careful of the permits in force that speak of the same vehicle; the first where they are equal. Where
   * none is in force, none speaks: then the kindest tells what is missing.
   * @param {Facts[]} permits @param {string} day @param {Step[]} table @returns {Judgement} */
  function judgedTogether(permits, day, table) {
    if (!Array.isArray(permits) || permits.length === 0) throw new Error("no permit to judge");
    const grade = (/** @type {Judgement} */ each) => FROM_BEST_TO_WORST.indexOf(each.verdict);
    const judgements = permits.map((facts) => judge(facts, day, table));
    const inForce = judgements.filter((each) => each.isInForce);
    if (inForce.length) return inForce.reduce((worst, each) => (grade(each) > grade(worst) ? each : worst));
    return judgements.reduce((best, each) => (grade(each) < grade(best) ? each : best));
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
    return { id: step.id, outcome: /** @type {Taken["outcome"]} */ (outcome), found };
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

  /** Milliseconds of an ISO date's midnight in UTC; null where there is no such day.
   * @param {unknown} text @returns {number | null} */
  function dayNumber(text) {
    const cut = typeof text === "string" ? /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/.exec(text) : null;
    if (!cut || cut[1] === "0000") return null;
    const day = new Date(0);
    // Not Date.UTC: it takes the years 0 to 99 for 1900 to 1999.
    day.setUTCFullYear(Number(cut[1]), Number(cut[2]) - 1, Number(cut[3]));
    return day.getUTCMonth() === Number(cut[2]) - 1 && day.getUTCDate() === Number(cut[3]) ? day.getTime() : null;
  }

  /** Whole days from one ISO date to another; null where either is no day.
   * @param {unknown} from @param {unknown} to @returns {number | null} */
  function daysBetween(from, to) {
    const [first, last] = [dayNumber(from), dayNumber(to)];
    return first === null || last === null ? null : Math.round((last - first) / DAY_MS);
  }

  /** The calendar day of a clock, where it stands. @param {Date} clock @returns {string} ISO date */
  function localDay(clock) {
    const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
    return `${String(clock.getFullYear()).padStart(4, "0")}-${two(clock.getMonth() + 1)}-${two(clock.getDate())}`;
  }

  /** @param {object} record @param {string} key */
  function has(record, key) {
    return Object.prototype.hasOwnProperty.call(record, key);
  }

  root.spares = Object.assign(root.spares || {}, { judge, judgedTogether, daysBetween, localDay });
})(/** @type {any} */ (globalThis));
