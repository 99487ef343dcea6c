// A form whose file is handed over: the ways to do so take its place, until somebody goes back or says that it is done.
(function () {
  "use strict";

  /** @param {HTMLElement} whole what the hand-over takes the place of @param {HandedOver} file
   * @param {{ done: Record<string, string>, words: { done: Record<string, string> }, contact: string }} data words of each way, and a form's own
   * @param {() => void} again draws the form anew @param {() => void} given keeps what is done */
  function givenOver(whole, file, data, again, given) {
    const before = [...whole.childNodes];
    const change = () => { whole.replaceChildren(...before); again(); whole.querySelector("h2")?.focus(); };
    const finish = () => { given(); change(); };
    const words = /** @type {RequestWords} */ (/** @type {unknown} */ ({ done: { ...data.done, ...data.words.done } }));
    const last = spares.screen.handover(file, words, data.contact, change, finish);
    whole.replaceChildren(last);
    last.scrollIntoView({ block: "start" });
    last.querySelector("h2")?.focus();
  }

  spares.screen = { ...spares.screen, givenOver };
})();
