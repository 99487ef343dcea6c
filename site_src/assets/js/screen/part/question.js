// "Ask first": the question with what the catalogue says, copied whole. A verdict may be judged anew at any time, so that one
// listener serves every button there ever is.
(function () {
  "use strict";

  const { copied, named, vehicle } = spares.screen;
  const TOLD_FOR_MS = 4000;

  /** @param {Element} box @param {string} place */
  const said = (box, place) => (box.querySelector(place)?.textContent || "").replace(/\s+/g, " ").trim();

  /** @param {Element} box @returns {string} */
  function question(box) {
    const words = globalThis.sparesRules.words;
    const [carried, chosen] = [vehicle(), spares.screen.piece()];
    const facts = { day: box.getAttribute("data-judged-on") || globalThis.sparesRules.built_on, verdict: said(box, ".verdict__word"), reason: said(box, ".verdict__reason") };
    const lines = [
      chosen === null ? "" : spares.judge.filled(words.working.piece[chosen ? "asked" : "asked_none"], { batch: chosen }, words),
      carried ? spares.judge.filled(words.vehicle.mine, { vehicle: named(carried) }, words) : "",
      said(box, ".verdict__question"), spares.judge.filled(words.working.question.says, facts, words), said(box, ".verdict__ask p"),
    ];
    return lines.filter(Boolean).join("\n");
  }

  document.addEventListener("click", async ({ target }) => {
    const button = target instanceof Element ? target.closest(".verdict__copy") : null;
    const box = button?.closest(".verdict");
    const shown = box?.querySelector(".verdict__question");
    if (!button || !box || !(shown instanceof HTMLElement)) return;
    const before = button.textContent;
    const is = await copied(question(box), shown);
    if (!is) return;
    button.textContent = globalThis.sparesRules.words.working.question.copied;
    setTimeout(() => { button.textContent = before; }, TOLD_FOR_MS);
  });
})();
