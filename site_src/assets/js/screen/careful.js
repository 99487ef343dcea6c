// What did the page say before any script? It never says "Fit it", and it returns whenever something goes wrong.
(function () {
  "use strict";

  /** @type {Map<Element, Element>} */
  const careful = new Map();

  /** Remember an element as it was built.
   * @param {Element} element */
  function keepCareful(element) {
    if (!careful.has(element)) careful.set(element, /** @type {Element} */ (element.cloneNode(true)));
  }

  /** @param {Element} element */
  function goBack(element) {
    const before = careful.get(element);
    if (!before) return;
    element.className = before.className;
    element.removeAttribute("data-judged-on");
    element.replaceChildren(.../** @type {Element} */ (before.cloneNode(true)).childNodes);
  }

  /** Whether the page itself forbids the part: files that may be of another copy do not soften that.
   * @param {Element} element @param {string} forbidden how it says so, as a selector */
  function isFloor(element, forbidden) {
    const before = careful.get(element);
    return spares.screen.copyState() !== "whole" && Boolean(before && (before.matches(forbidden) || before.querySelector(forbidden)));
  }

  spares.screen = { ...spares.screen, keepCareful, goBack, isFloor };
})();
