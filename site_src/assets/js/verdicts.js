// Does the verdict on this page still hold today? Judges every `.verdict` anew by the tablet's own clock.
//
// The page comes with a careful form that never says "Fit it". Whatever goes wrong here, that form stays or returns.
(function (root) {
  "use strict";

  const LOOK_AT_CLOCK_EVERY_MS = 20 * 1000;
  const spares = root.spares;

  /** What the page said before any script: class and content of each verdict. @type {Map<Element, Element>} */
  const careful = new Map();
  let judgedOn = "";

  /** @param {string} day ISO date */
  function judgeAll(day) {
    for (const box of document.querySelectorAll(".verdict[data-ground]")) {
      if (!careful.has(box)) careful.set(box, /** @type {Element} */ (box.cloneNode(true)));
      try {
        if (isFloor(box)) goBack(box);
        else show(box, judgement(box, day), day);
      } catch (reason) {
        goBack(box);
        console.error("spares: a verdict could not be judged anew, the careful one stays.", reason);
      }
    }
  }

  /** What the page itself forbids is not softened by files that may be of another copy. @param {Element} box */
  function isFloor(box) {
    return spares.copyState() !== "whole" && Boolean(careful.get(box)?.classList.contains("verdict--no"));
  }

  /** @param {Element} box @param {string} day */
  function judgement(box, day) {
    const rules = root.sparesRules;
    const part = root.sparesPart;
    if (part.number !== box.getAttribute("data-number")) throw new Error("the facts are those of another part");
    const permits = part.grounds[Number(box.getAttribute("data-ground"))].permits;
    for (const facts of permits) {
      if (facts.built_on !== rules.built_on) throw new Error("the facts are those of another copy");
    }
    const copy = spares.copyFacts(part.number);
    return spares.judgedTogether(permits.map((/** @type {any} */ facts) => ({ ...facts, ...copy })), day, rules.table);
  }

  /** Everything is worded before anything is shown, so that a missing word leaves the careful form.
   * @param {Element} box @param {any} told @param {string} day */
  function show(box, told, day) {
    const words = root.sparesRules.words;
    const word = text(words.verdict[told.verdict]);
    const reason = spares.reasonFor(told, words);
    const lines = told.steps.map((/** @type {any} */ step) => stepLine(step, told.facts, words));
    const open = box.querySelector("details")?.open;
    goBack(box);
    box.classList.remove("verdict--fit", "verdict--ask", "verdict--no");
    box.classList.add(`verdict--${told.verdict}`);
    box.setAttribute("data-judged-on", day);
    put(box, ".verdict__word", word);
    put(box, ".verdict__reason", reason);
    const list = box.querySelector(".verdict__steps ol");
    if (list) list.replaceChildren(...lines);
    const details = box.querySelector("details");
    if (details && open) details.open = true;
  }

  /** @param {any} step @param {Record<string, unknown>} facts @param {any} words */
  function stepLine(step, facts, words) {
    const said = words.steps[step.id];
    const line = document.createElement("li");
    line.className = `step step--${step.outcome}`;
    const { found, needed } = spares.foundBy(step, facts, words);
    const pieces = [["step__question", text(said.question)], ["step__found", found]];
    if (needed) {
      pieces.push(["step__needed", spares.filled(text(words.needed), { needed }, words)]);
    }
    pieces.forEach(([name, content], index) => {
      const piece = document.createElement("span");
      piece.className = name;
      piece.append(isolated(content));
      line.append(...(index ? [" — "] : []), piece);
    });
    return line;
  }

  /** @param {Element} box */
  function goBack(box) {
    const before = careful.get(box);
    if (!before) return;
    box.className = before.className;
    box.removeAttribute("data-judged-on");
    box.replaceChildren(...(/** @type {Element} */ (before.cloneNode(true)).childNodes));
  }

  /** @param {Element} box @param {string} place @param {string} content */
  function put(box, place, content) {
    const found = box.querySelector(place);
    if (!found) throw new Error(`the page has no ${place}`);
    found.replaceChildren(isolated(content));
  }

  /** Text from a record keeps its reading direction to itself. @param {string} content */
  function isolated(content) {
    const held = document.createElement("bdi");
    held.textContent = content;
    return held;
  }

  /** @param {unknown} words @returns {string} */
  function text(words) {
    if (typeof words !== "string" || words === "") throw new Error("a word is missing");
    return words;
  }

  function look() {
    const day = spares.localDay(new Date());
    if (day === judgedOn) return;
    judgedOn = day;
    judgeAll(day);
    document.dispatchEvent(new CustomEvent("spares:judged", { detail: day }));
  }

  /** What is known of the copy has changed: judge anew, once the page is there. */
  function lookAgain() {
    if (spares.copyState() === "loading") return;
    judgedOn = "";
    look();
  }

  document.addEventListener("spares:copy", lookAgain);
  setInterval(look, LOOK_AT_CLOCK_EVERY_MS);
  document.addEventListener("visibilitychange", look);
  root.addEventListener("pageshow", look);
  root.addEventListener("focus", look);
})(/** @type {any} */ (globalThis));
