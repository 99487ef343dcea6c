// How old is this copy of the catalogue? Fills every `.copy-age` by the tablet's own clock.
(function (root) {
  "use strict";

  const LOOK_AT_CLOCK_EVERY_MS = 20 * 1000;
  const spares = root.spares;
  let shownFor = "";

  /** The state of the copy and the line that says it.
   * @param {any} rules @param {string} day ISO date @returns {{ state: "good" | "old" | "clock" | "mixed" | "broken", line: string }} */
  function copyAge(rules, day) {
    const { built_on, max_copy_age_days, words } = rules;
    const n = spares.daysBetween(built_on, day);
    if (n === null || !Number.isInteger(max_copy_age_days)) throw new Error("the age of this copy cannot be told");
    const facts = { built_on, max_copy_age_days: String(max_copy_age_days), n: String(n), day };
    const copy = spares.copyState ? spares.copyState() : "whole";
    if (copy === "mixed" || copy === "broken") return { state: copy, line: words.copy[copy] };
    if (n < 0) return { state: "clock", line: spares.filled(words.copy.clock, facts, words) };
    if (n > max_copy_age_days) return { state: "old", line: spares.filled(words.copy.too_old, facts, words) };
    if (n === 0) return { state: "good", line: spares.filled(words.copy.today, facts, words) };
    return { state: "good", line: spares.counted(words.copy.age, n, facts, words) };
  }

  function look() {
    const day = spares.localDay(new Date());
    if (day === shownFor) return;
    shownFor = day;
    try {
      const { state, line } = copyAge(root.sparesRules, day);
      for (const box of document.querySelectorAll(".copy-age")) {
        box.textContent = line;
        box.setAttribute("data-state", state);
      }
    } catch (reason) {
      console.error("spares: the age of this copy cannot be told.", reason);
    }
  }

  root.spares = Object.assign(root.spares || {}, { copyAge });
  document.addEventListener("spares:copy", () => {
    shownFor = "";
    look();
  });
  look();
  setInterval(look, LOOK_AT_CLOCK_EVERY_MS);
  document.addEventListener("visibilitychange", look);
  root.addEventListener("pageshow", look);
})(/** @type {any} */ (globalThis));
