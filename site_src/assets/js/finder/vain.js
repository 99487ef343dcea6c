// What was looked for in vain: the list that a tablet remembers, and its text in a file, in the format of
// generator/records/queries.py. Pure.
(function () {
  "use strict";

  const { line } = spares.finder;
  const MOST = 200;
  const MOST_TIMES = 10000;
  const LONGEST = 240;
  const DAY = /^\d{4}-\d{2}-\d{2}$/;

  /** @param {Ranked} ranked @returns {boolean} whether the answer is "no such part" */
  const isInVain = (ranked) => ranked.items.length > 0 && ranked.said === "none" && !ranked.strange;

  /** As it is kept: one line, without what cannot be seen.
   * @param {string} text */
  const kept = (text) => line(line(text).slice(0, LONGEST));

  /** So that only case and white space make no difference.
   * @param {string} text */
  const key = (text) => kept(text).normalize("NFC").toLowerCase();

  /** Whether the one was only a beginning of the other.
   * @param {string} text @param {string} next */
  const isBeginning = (text, next) => key(next).startsWith(key(text)) && key(next) !== key(text);

  /** What the tablet has kept, without what is none of ours.
   * @param {unknown} given @returns {Sought[]} */
  function listOf(given) {
    if (!Array.isArray(given)) return [];
    const fit = given.filter((each) => each && typeof each.text === "string" && key(each.text)
      && Number.isInteger(each.times) && each.times >= 0 && each.times <= MOST_TIMES && typeof each.last === "string" && DAY.test(each.last));
    return fit.map(({ text, times, last }) => ({ text: kept(text), times, last })).slice(-MOST);
  }

  /** With a text counted once more; the newest stands last, and the oldest go.
   * @param {Sought[]} list @param {string} text @param {string} day @returns {Sought[]} */
  function more(list, text, day) {
    const before = list.find((each) => key(each.text) === key(text));
    const times = Math.min((before ? before.times : 0) + 1, MOST_TIMES);
    return [...list.filter((each) => each !== before), { text: kept(text), times, last: day }].slice(-MOST);
  }

  /** With a text counted once less; one that is left without a count goes.
   * @param {Sought[]} list @param {string} text @returns {Sought[]} */
  function less(list, text) {
    const same = list.find((each) => key(each.text) === key(text));
    if (!same || same.times <= 1) return list.filter((each) => each !== same);
    return list.map((each) => (each === same ? { ...each, times: each.times - 1 } : each));
  }

  /** @param {Sought[]} list @param {string} text @returns {Sought[]} */
  const without = (list, text) => list.filter((each) => key(each.text) !== key(text));

  /** What has not been handed over: where nothing was typed since, its count is nought.
   * @param {Sought[]} list @returns {Sought[]} */
  const waiting = (list) => list.filter((each) => each.times > 0);

  /** With these handed over, as often as they were told.
   * @param {Sought[]} list @param {Sought[]} told @returns {Sought[]} */
  function handed(list, told) {
    return list.map((each) => {
      const same = told.find((one) => key(one.text) === key(each.text));
      return same ? { ...each, times: Math.max(0, each.times - same.times) } : each;
    });
  }

  /** The key `looked_for` of a file that is handed over on a day; a day after it was a wrong clock's.
   * @param {Sought[]} told @param {string} day @returns {string} */
  function lookedFor(told, day) {
    const lines = told.map(({ text, times, last }) => `  - {text: ${JSON.stringify(text)}, times: ${times}, last: ${last > day ? day : last}}\n`);
    return lines.length ? `looked_for:\n${lines.join("")}` : "";
  }

  spares.finder = { ...spares.finder, vain: { isInVain, kept, key, isBeginning, listOf, more, less, without, waiting, handed, lookedFor } };
})();
