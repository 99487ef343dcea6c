// The way to the model: a button beneath the pictures. Nothing of it is read before it is tapped; where it cannot be shown, the
// picture stands there and the words say why.
(function () {
  "use strict";

  const { made, openWindow, readLate } = spares.screen;
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-model]"));

  /** @param {HTMLElement} beside */
  function start(beside) {
    const words = globalThis.sparesRules.words.working.turn;
    const button = made("button", "button model__open", { type: "button", "aria-haspopup": "dialog" }, words.open);
    button.addEventListener("click", () => open(beside, words));
    beside.replaceChildren(button);
  }

  /** @param {HTMLElement} beside @param {Record<string, string>} words */
  function open(beside, words) {
    const name = [".part-id__number", "h1"].map((each) => document.querySelector(each)?.firstChild?.textContent?.trim() || "").join(" ");
    const picture = /** @type {HTMLImageElement | null} */ (document.querySelector(".pictures img"));
    const close = made("button", "button turn__button", { type: "button" }, words.close);
    const still = made("img", "turn__still", { alt: picture?.alt || "", src: picture?.src || "" });
    const stage = made("div", "turn__stage", { "data-is": "still" }, still);
    const told = made("p", "turn__told", { id: "turn-help", role: "status" }, words.opening);
    const controls = made("div", "turn__controls", {});
    const dialog = made("dialog", "turn", { "aria-label": name },
      made("div", "turn__head", {}, made("strong", "turn__title", {}, name), close), stage, told, controls, made("p", "turn__caution", {}, words.caution));
    const win = {
      path: beside.dataset.model || "", mark: beside.dataset.mark || "", name, words, stage, controls,
      tell: (/** @type {string} */ text, isValue = false) => {
        if (told.textContent !== text) told.textContent = text;
        told.classList.toggle("turn__told--value", isValue);
      },
      still: (/** @type {string} */ text) => { stage.setAttribute("data-is", "still"); controls.hidden = true; win.tell(text); },
      live: () => { stage.setAttribute("data-is", "live"); controls.hidden = false; },
    };
    close.addEventListener("click", () => dialog.close());
    openWindow(dialog);
    readLate("assets/js/model.js", () => spares.screen.turnModel)
      .then((turn) => turn(win))
      .catch((reason) => {
        const key = reason instanceof Error && Object.prototype.hasOwnProperty.call(words, reason.message) ? reason.message : "broken";
        console.warn("spares: the model is not shown.", reason);
        win.still(words[key]);
      });
  }

  if (place && typeof HTMLDialogElement !== "undefined") start(place);
})();
