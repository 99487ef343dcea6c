// How does each part on a card stand today? Puts today's verdicts on the cards of other parts, by the same judge.
//
// What a card says without scripts is careful ("Do not fit" or nothing). Whatever goes wrong here, that stays or returns.
(function () {
  "use strict";

  const FORBIDDEN = ".stand--no";
  const { filled, standLines, standings } = spares.judge;
  const { copyFacts, endedBefore, goBack, isFloor, keepCareful, onEachDay, partsData } = spares.screen;
  const places = [.../** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(".stands[data-part]"))];

  /** @param {StandLine} line @param {Words} words */
  function lineElement(line, words) {
    const element = document.createElement("span");
    element.className = `stand stand--${line.verdict || "open"}`;
    const who = line.label === null ? line.who : filled(words.cards.label, { who: line.who, revision: line.label }, words);
    if (who) element.append(piece("stand__who", who), " ");
    const word = line.verdict ? words.verdict[line.verdict] : words.finder.see_page;
    const told = line.verdict && line.differ ? filled(words.cards.some, { verdict: word }, words) : word;
    if (typeof told !== "string" || told === "") throw new Error("a word is missing");
    element.append(piece("stand__word", told, "strong"));
    return element;
  }

  /** @param {string} name @param {string} text @param {string} [tag] */
  function piece(name, text, tag = "span") {
    const element = document.createElement(tag);
    element.className = name;
    const held = document.createElement("bdi");
    held.textContent = text;
    element.append(held);
    return element;
  }

  /** @param {FinderData} data of all parts @param {string} day ISO date */
  function judgeAll(data, day) {
    const rules = globalThis.sparesRules;
    const byPage = new Map(data.records.map((record) => [record.page, record]));
    for (const place of places) {
      try {
        if (isFloor(place, FORBIDDEN)) {
          goBack(place);
          continue;
        }
        const { part, fleet, place: at } = place.dataset;
        const record = byPage.get(`${part}.html`);
        if (!record) throw new Error(`the index has no ${part}`);
        const lines = standLines(data, standings(data, record, day, rules, copyFacts(record.number), endedBefore(record.number)), { fleet, place: at, vehicle: spares.screen.meant() });
        const elements = lines.map((line) => lineElement(line, rules.words));
        place.setAttribute("data-judged-on", day);
        place.replaceChildren(...elements);
      } catch (reason) {
        goBack(place);
        console.error("spares: a card could not be judged anew, the careful form stays.", reason);
      }
    }
  }

  if (!places.length) return;
  places.forEach(keepCareful);
  onEachDay(async (day) => {
    try {
      judgeAll(await partsData(), day);
    } catch (reason) {
      places.forEach(goBack);
      console.error("spares: cards could not be judged anew, the careful form stays.", reason);
    }
  });
})();
