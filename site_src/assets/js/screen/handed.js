// What was handed over on this tablet and does not stand in its copy yet: told among the requests until it does.
(function () {
  "use strict";

  const KEY = "spares.handed";
  const MOST = 40;
  const { filled } = spares.judge;
  const { made } = spares.screen;

  /** @returns {HandedOn[]} */
  function readAll() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || "[]");
      return Array.isArray(kept) ? kept.filter((each) => each && ["name", "id", "day", "by"].every((key) => typeof each[key] === "string")) : [];
    } catch {
      return []; // forbidden, or not ours
    }
  }

  /** @param {HandedOn[]} all */
  function keep(all) {
    try {
      if (all.length) localStorage.setItem(KEY, JSON.stringify(all.slice(-MOST)));
      else localStorage.removeItem(KEY);
    } catch {
      // then nothing is remembered
    }
  }

  /** @param {HandedOn} request */
  const rememberHanded = (request) => keep([...readAll(), request]);

  const same = (/** @type {string} */ name) => name.trim().toLowerCase();

  /** Whether this copy tells of it: a request of that name and day or later, or a voice of that role and day.
   * @param {HandedOn} handed */
  function isInCopy(handed) {
    const told = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[data-request-name]")]);
    if (!handed.id) return told.some(({ dataset }) => same(dataset.requestName || "") === same(handed.name) && (dataset.requestOn || "") >= handed.day);
    const open = told.find(({ dataset }) => dataset.requestId === handed.id && dataset.voices !== undefined);
    return !open || (open.dataset.voices || "").split(" ").includes(`${handed.day}:${handed.by}`);
  }

  /** @param {HTMLElement} place */
  function show(place) {
    const words = globalThis.sparesRules.words;
    const left = readAll().filter((each) => !isInCopy(each));
    keep(left);
    place.hidden = left.length === 0;
    place.querySelector("ul")?.replaceChildren(...left.map((each) => {
      const forget = made("button", "button", { type: "button", "aria-label": filled(words.handed.forget_one, { name: each.name }, words) }, words.handed.forget);
      forget.addEventListener("click", () => {
        keep(readAll().filter((other) => JSON.stringify(other) !== JSON.stringify(each)));
        show(place);
      });
      const text = filled(each.id ? words.handed.voice : words.handed.design, { name: each.name, id: each.id, day: each.day }, words);
      return made("li", "handed__one", {}, made("bdi", "", {}, text), " ", made("strong", "", {}, words.handed.state), forget);
    }));
  }

  spares.screen = { ...spares.screen, rememberHanded };

  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-handed]"));
  if (place) show(place);
  if (place) window.addEventListener("pageshow", () => show(place));
})();
