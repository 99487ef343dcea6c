// What was looked for in vain on this tablet, on the page of requests: to look at, to delete, and to hand over as a file.
(function () {
  "use strict";

  const { made, vain } = spares.screen;

  /** @param {HTMLElement} place */
  function show(place) {
    const { words, contact } = globalThis.sparesRequest;
    const said = words.vain;
    const waiting = spares.finder.vain.waiting(vain.read()).reverse();
    place.hidden = waiting.length === 0;
    if (!waiting.length) {
      place.replaceChildren();
      return;
    }
    const again = () => {
      show(place);
      place.querySelector("h2")?.focus();
    };
    const counted = (/** @type {Counted} */ forms, /** @type {number} */ n, facts = {}) => spares.judge.counted(forms, n, facts, globalThis.sparesRules.words);
    const save = button(counted(said.save, waiting.length), "button--main vain__save", () => handOver(place, words, contact, again));
    const lines = waiting.map((each) => made("li", "vain__one", {}, made("span", "vain__what", {}, made("bdi", "vain__text", {}, each.text),
      made("span", "vain__times", {}, counted(said.times, each.times, { last: each.last }))),
    button(said.forget, "vain__forget", () => { vain.forget(each.text); again(); }, spares.judge.filled(said.forget_one, { text: each.text }, globalThis.sparesRules.words))));
    place.replaceChildren(made("h2", "", { tabindex: "-1" }, said.heading), made("p", "", {}, said.says), save,
      made("ul", "vain__list", { role: "list" }, ...lines), button(said.forget_all, "vain__all", () => { vain.forgetAll(); again(); }));
  }

  /** @param {string} word @param {string} name @param {() => void} pressed @param {string} [label] */
  function button(word, name, pressed, label) {
    const one = made("button", `button ${name}`, { type: "button", ...(label ? { "aria-label": label } : {}) }, word);
    one.addEventListener("click", pressed);
    return one;
  }

  /** @param {HTMLElement} place @param {RequestWords} words @param {string} contact @param {() => void} again */
  function handOver(place, words, contact, again) {
    const along = vain.along();
    const day = vain.today();
    const text = `collected: ${day}\n${spares.finder.vain.lookedFor(along.told(), day)}`;
    const file = { text, short: text, file: `queries-${day}.yml`, uncoded: true, gone: along.gone };
    const back = () => again();
    const said = { ...words, done: { ...words.done, ...words.vain.done } };
    const last = spares.screen.handover(file, said, contact, back, back);
    place.replaceChildren(last);
    last.scrollIntoView({ block: "nearest" });
    last.querySelector("h2")?.focus({ preventScroll: true });
  }

  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-vain]"));
  if (place && globalThis.sparesRequest) {
    show(place);
    window.addEventListener("pageshow", (event) => event.persisted && show(place));
    if (location.hash === "#vain") place.scrollIntoView();
  }
})();
