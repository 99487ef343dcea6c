// What is to be met before fitting: a box to tick for each, at the verdict that asks for it. Nothing is kept: a page that is
// loaded anew, comes back or sees another day begins without a tick, for what was met on one piece says nothing of the next.
(function () {
  "use strict";

  /** @type {Map<Element, { day: string, texts: Set<string> }>} */
  const known = new Map();
  const { made } = spares.screen;

  /** What is ticked at a verdict on that day.
   * @param {Element} box @param {string} day @returns {Set<string>} */
  function ticksOf(box, day) {
    const kept = known.get(box);
    if (kept && kept.day === day) return kept.texts;
    const texts = new Set();
    known.set(box, { day, texts });
    return texts;
  }

  /** Put the boxes under the reason; `changed` is called after each tick.
   * @param {Element} box @param {string} day @param {string[]} texts @param {() => void} changed */
  function offerTicks(box, day, texts, changed) {
    const ticks = ticksOf(box, day);
    const words = globalThis.sparesRules.words;
    const list = made("fieldset", "ticks", {}, made("legend", "", {}, words.ticks.says));
    texts.forEach((text, at) => {
      const field = made("input", "", { type: "checkbox", autocomplete: "off" });
      field.checked = ticks.has(text);
      field.addEventListener("change", () => {
        if (field.checked) ticks.add(text);
        else ticks.delete(text);
        changed();
        /** @type {HTMLElement | undefined} */ (box.querySelectorAll(".ticks input")[at])?.focus({ preventScroll: true });
      });
      list.append(made("label", "tick", {}, field, made("bdi", "", {}, text)));
    });
    box.querySelector(".verdict__reason")?.after(list);
  }

  /** Forget every tick.
   * @returns {boolean} whether there was one */
  function forgetTicks() {
    const had = [...known.values()].some((each) => each.texts.size > 0);
    known.clear();
    return had;
  }

  spares.screen = { ...spares.screen, offerTicks, ticksOf, forgetTicks };
})();
