// Does the verdict on this page still hold today? Judges every `.verdict` anew by the tablet's own clock.
//
// The page comes with a careful form that never says "Fit it". Whatever goes wrong here, that form stays or returns.
(function () {
  "use strict";

  const FORBIDDEN = ".verdict--no";
  const NUMBER = /\b([A-Z]{1,4}-[0-9]{1,8}(?:-[0-9]{1,4})?)\b/;
  const { alsoFor, endingsOf, failedFirst, filesBehind, foundBy, filled, forgottenOn, inServiceBy, judged, judgedTogether, ofPiece, reasonFor, spokenOn, withTicks } = spares.judge;
  const { endedBefore, forgetInTime, goBack, isFloor, keepCareful, keepEnded, made, offerTicks, onEachDay, ticksOf } = spares.screen;

  /** How each stands for any piece, where the page speaks of the one in the hand: shelf and order are of others.
   * @type {WeakMap<Element, OfAny>} */
  const ofAnyPiece = new WeakMap();

  /** @param {string} day ISO date */
  function judgeAll(day) {
    for (const box of document.querySelectorAll(".verdict[data-ground]")) {
      keepCareful(box);
      judgeSafely(box, day);
    }
  }

  /** @param {Element} box @param {string} day */
  function judgeSafely(box, day) {
    ofAnyPiece.delete(box);
    try {
      if (isFloor(box, FORBIDDEN)) goBack(box);
      else judgeOne(box, day);
    } catch (reason) {
      goBack(box);
      console.error("spares: a verdict could not be judged anew, the careful one stays.", reason);
    }
  }

  /** Judge with what is ticked, and offer what is to be ticked, unless nothing that is ticked could help.
   * @param {Element} box @param {string} day */
  function judgeOne(box, day) {
    const chosen = spares.screen.piece();
    const permits = factsOf(box, chosen);
    if (chosen !== null) keepOfAny(box, day);
    const table = globalThis.sparesRules.table;
    const judgedWith = (/** @type {Set<string>} */ ticks) =>
      judgedTogether(permits.map((facts) => withTicks(facts, ticks)), day, table);
    const heard = permits.filter((facts) => judged(facts, day, table).isInForce);
    const texts = [...new Set(heard.flatMap((facts) => (Array.isArray(facts.before_fitting) ? facts.before_fitting : [])))];
    const told = judgedWith(ticksOf(box, day));
    const offered = texts.length > 0 && judgedWith(new Set(texts)).verdict !== "no";
    const reasons = offered ? heard.flatMap((facts) => longestReasons(facts, texts, day)) : [];
    show(box, told, day, told.verdict === "no" ? [] : inServiceBy(heard, globalThis.sparesRules.words));
    if (offered) offerTicks(box, day, { texts, reasons }, () => judgeSafely(box, day));
  }

  /** @param {Element} box @param {string} day */
  function keepOfAny(box, day) {
    const { table, words } = globalThis.sparesRules;
    const told = judgedTogether(factsOf(box, null), day, table);
    ofAnyPiece.set(box, { verdict: told.verdict, word: text(words.verdict[told.verdict]), reason: reasonFor(told, words) });
  }

  /** How a verdict stands whatever piece is in the hand; null where that is what stands on the page.
   * @param {Element} box @returns {OfAny | null} */
  const ofAny = (box) => ofAnyPiece.get(box) || null;

  /** A permit's reasons without any tick and with all: each reason between has fewer words than one of them.
   * @param {Facts} facts @param {string[]} texts @param {string} day */
  function longestReasons(facts, texts, day) {
    const { table, words } = globalThis.sparesRules;
    return [[], texts].map((ticked) => reasonFor(judged(withTicks(facts, new Set(ticked)), day, table), words));
  }

  /** The facts of each permit, of the piece and of what is known of the copy.
   * @param {Element} box @param {string | null} chosen its batch @returns {Facts[]} */
  function factsOf(box, chosen) {
    const rules = globalThis.sparesRules;
    const part = globalThis.sparesPart;
    if (part.number !== box.getAttribute("data-number")) throw new Error("the facts are those of another part");
    const at = Number(box.getAttribute("data-ground"));
    const { permits, pieces } = part.grounds[at];
    for (const facts of permits) {
      if (facts.built_on !== rules.built_on) throw new Error("the facts are those of another copy");
    }
    const copy = spares.screen.copyFacts(part.number, () => forgotten(part, at));
    const those = chosen === null ? permits : ofPiece(permits, pieces, chosen, part, rules.unknown_piece, spares.screen.pieceAgainst());
    return those.map((facts) => ({ ...facts, ...copy }));
  }

  /** The day of an ending that this tablet has seen and this copy does not tell any more.
   * @param {PartData} part @param {number} at the ground */
  function forgotten(part, at) {
    const ended = endedBefore(part.number);
    if (!ended.length) return null;
    const grounds = spokenOn(part);
    return forgottenOn(ended, grounds, grounds[at]);
  }

  /** Everything is worded before anything is shown, so that a missing word leaves the careful form.
   * @param {Element} box @param {Judgement} told @param {string} day @param {string[]} inService */
  function show(box, told, day, inService) {
    const words = globalThis.sparesRules.words;
    const word = text(words.verdict[told.verdict]);
    const reason = reasonFor(told, words);
    const also = spares.screen.piece() === null ? [] : alsoFor(told, globalThis.sparesRules);
    const lines = failedFirst(told.steps).map((step) => stepLine(step, told.facts, words));
    const open = box.querySelector("details")?.open;
    const height = open ? stepsOf(box)?.getBoundingClientRect().height : 0;
    goBack(box);
    box.classList.remove("verdict--fit", "verdict--ask", "verdict--no");
    box.classList.add(`verdict--${told.verdict}`);
    box.setAttribute("data-judged-on", day);
    put(box, ".verdict__word", word);
    put(box, ".verdict__reason", reason);
    tellPiece(box);
    for (const line of box.querySelectorAll(".verdict__also")) line.remove();
    box.querySelector(".verdict__reason")?.after(...also.map((line) => made("p", "verdict__also", {}, isolated(line))));
    for (const line of box.querySelectorAll(".verdict__service")) line.remove();
    box.querySelector(".verdict__reason")?.after(...inService.map((line) => made("p", "verdict__service", {}, isolated(line))));
    const list = stepsOf(box);
    list?.replaceChildren(...lines);
    if (list && height) list.style.minHeight = `${height}px`; // an open Why keeps its room, so that nothing below it moves
    const details = box.querySelector("details");
    if (details && open) details.open = true;
  }

  /** Which piece it speaks of, where somebody has said.
   * @param {Element} box */
  function tellPiece(box) {
    const words = globalThis.sparesRules.words;
    const chosen = spares.screen.piece();
    if (chosen === null) return;
    const name = filled(text(words.working.piece[chosen ? "this" : "none_of"]), { batch: chosen }, words);
    box.querySelector(".verdict__who")?.append(made("span", "verdict__piece", {}, " · ", made("strong", "", {}, isolated(name))));
  }

  /** @param {Element} box @returns {HTMLElement | null} */
  const stepsOf = (box) => box.querySelector(".verdict__steps ol");

  /** @param {Taken} step @param {Facts} facts @param {Words} words */
  function stepLine(step, facts, words) {
    const said = words.steps[step.id];
    const line = document.createElement("li");
    line.className = `step step--${step.outcome}`;
    const { found, needed } = foundBy(step, facts, words);
    const pieces = [["step__question", text(said.question)], ["step__found", found]];
    if (needed) {
      pieces.push(["step__needed", filled(text(words.needed), { needed }, words)]);
    }
    pieces.forEach(([name, content], index) => {
      const piece = document.createElement("span");
      piece.className = name;
      piece.append(isolated(content));
      line.append(...(index ? [" — "] : []), piece);
    });
    const files = filesBehind(step.id, facts, globalThis.sparesRules.files, globalThis.sparesPart.files);
    for (const file of files) line.append(" ", fileLink(file));
    return line;
  }

  /** @param {OpenFile} file */
  function fileLink(file) {
    const piece = document.createElement("span");
    piece.className = "step__file";
    piece.append(isolated(file.title));
    if (file.href === null) return piece;
    const link = document.createElement("a");
    link.href = file.href;
    if (file.is_saved) link.download = "";
    link.append(...piece.childNodes);
    piece.append(link);
    return piece;
  }

  /** @param {Element} box @param {string} place @param {string} content */
  function put(box, place, content) {
    const found = box.querySelector(place);
    if (!found) throw new Error(`the page has no ${place}`);
    found.replaceChildren(isolated(content));
  }

  /** Text from a record keeps its reading direction to itself, and its numbers in one line, as generator/edge/site/whole_numbers.py does.
   * @param {string} content */
  function isolated(content) {
    const pieces = content.split(NUMBER);
    return made("bdi", "", {}, ...pieces.map((piece, at) => (at % 2 ? made("span", "unbroken", {}, piece) : piece)));
  }

  /** @param {unknown} words @returns {string} */
  function text(words) {
    if (typeof words !== "string" || words === "") throw new Error("a word is missing");
    return words;
  }

  /** What the part's own page says was withdrawn is known to this tablet from now on. */
  function keep() {
    const part = globalThis.sparesPart;
    if (part && hasEnded(part)) keepEnded([[part.number, endingsOf(spokenOn(part))]]);
  }

  /** @param {PartData} part */
  const hasEnded = (part) => part.grounds.some((ground) => ground.permits.some((facts) => facts.withdrawn_on || facts.superseded_on));

  spares.screen = { ...spares.screen, ofAny };
  forgetInTime(() => judgeAll(spares.judge.localDay(new Date())));
  onEachDay((day) => {
    try {
      keep();
    } catch (reason) {
      console.error("spares: what was withdrawn cannot be kept on this tablet.", reason);
    }
    judgeAll(day);
    document.dispatchEvent(new CustomEvent("spares:judged", { detail: day }));
  });
})();
