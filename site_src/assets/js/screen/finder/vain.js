// Queries that found nothing are remembered on this tablet. Nothing leaves it by itself: they go with the next request that
// somebody hands over, or as a file from the page of requests. A tablet that keeps nothing is no mistake.
(function () {
  "use strict";

  const KEY = "spares.vain";
  /** A query that was left standing so long was meant (common practice, no source). */
  const RESTS_MS = 2000;
  const { vain } = spares.finder;

  /** What was counted since the page was opened, so that nothing counts twice by being looked at twice. */
  const counted = new Set();
  let current = "";
  /** @type {Timer | undefined} */
  let resting;

  /** @returns {Sought[]} */
  function read() {
    try {
      return vain.listOf(JSON.parse(localStorage.getItem(KEY) || "[]"));
    } catch {
      return []; // forbidden, or not ours
    }
  }

  /** @param {Sought[]} list */
  function keep(list) {
    try {
      if (list.length) localStorage.setItem(KEY, JSON.stringify(list));
      else localStorage.removeItem(KEY);
    } catch {
      // full or forbidden: then it is not remembered
    }
  }

  /** Today; a clock that stands before this copy was made is not believed. */
  function today() {
    const day = spares.judge.localDay(new Date());
    const built = globalThis.sparesRules.built_on;
    return day < built ? built : day;
  }

  /** @param {string} text */
  function count(text) {
    const key = vain.key(text);
    clearTimeout(resting);
    if (!key || counted.has(key)) return;
    counted.add(key);
    keep(vain.more(read(), text, today()));
  }

  /** The finder has answered. What it was typed on from is taken back: it was a beginning, and nothing that is looked for.
   * @param {string} text @param {{ typed: boolean, inVain: boolean }} how typed: by hand, not by the page's address */
  function answered(text, { typed, inVain }) {
    if (text === current) return;
    current = text;
    clearTimeout(resting);
    for (const each of counted) {
      if (!vain.isBeginning(each, text)) continue;
      counted.delete(each);
      keep(vain.less(read(), each));
    }
    if (typed && inVain) resting = setTimeout(() => count(text), RESTS_MS);
  }

  /** What goes along with what is handed over on this page; the same as often as it is asked, until `over`. */
  function along() {
    /** @type {Sought[] | null} */
    let taken = null;
    let went = false;
    return {
      told: () => (taken = taken || vain.waiting(read())),
      gone: () => {
        if (taken && !went) keep(vain.handed(read(), taken));
        went = true;
      },
      over: () => { [taken, went] = [null, false]; },
    };
  }

  /** @param {string} text */
  const forget = (text) => keep(vain.without(read(), text));
  const forgetAll = () => keep([]);

  spares.screen = { ...spares.screen, vain: { read, count, answered, along, forget, forgetAll, today } };
})();
