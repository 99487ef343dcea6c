// May a part be taken from the shelf or ordered today? Reads the verdicts that stand on the page, judged or careful.
(function () {
  "use strict";

  const boxes = [...document.querySelectorAll(".verdict")];

  /** Whether no verdict lets a part with this label be fitted anywhere; "" is the part's own revision.
   * @param {string} label */
  const isNeverFit = (label) =>
    boxes.filter((box) => (box.getAttribute("data-label") || "") === label).every((box) => box.classList.contains("verdict--no"));

  /** @param {Element} box @param {string} place */
  const said = (box, place) => (box.querySelector(place)?.textContent || "").replace(/\s+/g, " ").trim();

  /** The order says how the verdicts stood on the day it is copied.
   * @param {string} day ISO date */
  function orderLines(day) {
    return boxes
      .filter((box) => !box.hasAttribute("data-label") && box.hasAttribute("data-judged-on"))
      .map((box) => {
        const words = globalThis.sparesRules.words;
        const who = said(box, ".verdict__who");
        const verdict = `${said(box, ".verdict__word")}, ${said(box, ".verdict__reason")}`;
        return `${spares.judge.filled(words.copy.verdict, { day }, words)}: ${who}: ${verdict}\n`;
      })
      .join("");
  }

  /** @param {string} day ISO date */
  function show(day) {
    for (const shelf of document.querySelectorAll("[data-shelf]")) {
      const no = isNeverFit(shelf.getAttribute("data-shelf") || "");
      shelf.classList.toggle("shelf--no", no);
      const told = /** @type {HTMLElement | null} */ (shelf.querySelector(".shelf__no"));
      if (told) told.hidden = !no;
    }
    const box = /** @type {HTMLElement | null} */ (document.querySelector(".order-no"));
    if (box) box.hidden = !isNeverFit("");
    const lines = orderLines(day);
    for (const place of lines ? document.querySelectorAll(".order__verdicts") : []) place.textContent = lines;
  }

  if (!boxes.length) return;
  show(spares.judge.localDay(new Date()));
  document.addEventListener("spares:judged", (event) => show(/** @type {CustomEvent} */ (event).detail));
})();
