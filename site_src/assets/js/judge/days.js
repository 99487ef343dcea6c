// Which day is it, and how many lie between two? ISO dates, no clock of its own. Pure.
(function () {
  "use strict";

  const DAY_MS = 24 * 60 * 60 * 1000;

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

  /** The calendar day of a clock, where it stands.
   * @param {Date} clock @returns {string} ISO date */
  function localDay(clock) {
    const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
    return `${String(clock.getFullYear()).padStart(4, "0")}-${two(clock.getMonth() + 1)}-${two(clock.getDate())}`;
  }

  spares.judge = { ...spares.judge, DAY_MS, dayNumber, daysBetween, localDay };
})();
