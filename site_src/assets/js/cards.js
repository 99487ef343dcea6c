// How does each part on a card stand today? Puts today's verdicts on the cards of other parts, by the same judge.
//
// What a card says without scripts is careful ("Do not fit" or nothing). Whatever goes wrong here, that stays or returns.
(function (root) {
  "use strict";

  const LOOK_AT_CLOCK_EVERY_MS = 20 * 1000;
  const FROM_BEST_TO_WORST = ["fit", "ask", "no"];
  const spares = root.spares;
  const places = [...document.querySelectorAll(".stands[data-part]")];

  /** What the page said before any script. @type {Map<Element, Node[]>} */
  const careful = new Map(places.map((place) => [place, [...place.childNodes]]));
  let judgedOn = "";

  /** @typedef {{ fleet: number, place: number, vehicles: string[], label: string | null, verdict: string | null }} Stand */
  /** @typedef {{ who: string, label: string | null, verdict: string | null, differ: boolean }} Line  verdict null where it cannot be judged */

  /** The worst of several; what cannot be judged is no better than the worst of the others, and never "Fit it".
   * @param {Stand[]} stands @returns {{ verdict: string | null, differ: boolean }} */
  function worst(stands) {
    const known = stands.map((stand) => stand.verdict);
    const grades = known.map((verdict) => (verdict === null ? -1 : FROM_BEST_TO_WORST.indexOf(verdict)));
    const most = Math.max(...grades);
    const unclear = grades.includes(-1) && FROM_BEST_TO_WORST[most] !== "no";
    return { verdict: unclear ? null : FROM_BEST_TO_WORST[most], differ: new Set(known).size > 1 };
  }

  /** A line for each fleet, or one for the place that the card stands on; fleets that stand alike share a line.
   * Parts labelled with an earlier revision have a line of their own.
   * @param {any} data @param {Stand[]} stands @param {{ fleet?: string, place?: string }} only @returns {Line[]} */
  function standLines(data, stands, only) {
    const fleetOf = (/** @type {Stand} */ stand) => (data.fleets[stand.fleet] || { id: "" }).id;
    const wanted = only.fleet
      ? stands.filter((stand) => fleetOf(stand) === only.fleet && data.places[stand.place] === only.place)
      : stands;
    if (!wanted.length) return [{ who: "", label: null, verdict: stands.length && only.fleet ? null : "no", differ: false }];
    /** @type {Map<string, Line>} */
    const alike = new Map();
    for (const label of new Set(wanted.map((stand) => stand.label))) {
      for (const fleet of new Set(wanted.map(fleetOf))) {
        const group = wanted.filter((stand) => fleetOf(stand) === fleet && stand.label === label);
        if (!group.length) continue;
        const told = { label, ...worst(group) };
        const line = alike.get(JSON.stringify(told));
        const who = only.fleet ? "" : fleet;
        alike.set(JSON.stringify(told), { ...told, who: line ? `${line.who}, ${who}` : who });
      }
    }
    return [...alike.values()];
  }

  /** @param {Line} line @param {any} words */
  function lineElement(line, words) {
    const element = document.createElement("span");
    element.className = `stand stand--${line.verdict || "open"}`;
    const who = line.label === null ? line.who : spares.filled(words.cards.label, { who: line.who, revision: line.label }, words);
    if (who) element.append(piece("stand__who", who), " ");
    const word = line.verdict ? words.verdict[line.verdict] : words.finder.see_page;
    const told = line.verdict && line.differ ? spares.filled(words.cards.some, { verdict: word }, words) : word;
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

  /** @param {any} parts what the finder knows @param {string} day ISO date */
  function judgeAll(parts, day) {
    const rules = root.sparesRules;
    const byPage = new Map(parts.data.records.map((/** @type {any} */ record) => [record.page, record]));
    for (const place of places) {
      try {
        if (spares.copyState() !== "whole" && isFloor(place)) {
          goBack(place);
          continue;
        }
        const { part, fleet, place: at } = /** @type {HTMLElement} */ (place).dataset;
        const record = byPage.get(`${part}.html`);
        if (!record) throw new Error(`the index has no ${part}`);
        const lines = standLines(parts.data, spares.standings(parts.data, record, day, rules), { fleet, place: at });
        const elements = lines.map((line) => lineElement(line, rules.words));
        place.setAttribute("data-judged-on", day);
        place.replaceChildren(...elements);
      } catch (reason) {
        goBack(place);
        console.error("spares: a card could not be judged anew, the careful form stays.", reason);
      }
    }
  }

  /** Whether the page itself forbids the part: files that may be of another copy do not soften that. @param {Element} place */
  function isFloor(place) {
    return (careful.get(place) || []).some((node) => node instanceof Element && node.classList.contains("stand--no"));
  }

  /** @param {Element} place */
  function goBack(place) {
    place.removeAttribute("data-judged-on");
    place.replaceChildren(...(careful.get(place) || []));
  }

  async function look() {
    const day = spares.localDay(new Date());
    if (day === judgedOn) return;
    judgedOn = day;
    try {
      judgeAll(await spares.catalogue(), day);
    } catch (reason) {
      places.forEach(goBack);
      console.error("spares: cards could not be judged anew, the careful form stays.", reason);
    }
  }

  /** What is known of the copy has changed: judge anew, once the page is there. */
  function lookAgain() {
    if (spares.copyState() === "loading") return;
    judgedOn = "";
    look();
  }

  root.spares = Object.assign(root.spares || {}, { standLines });
  if (!places.length) return;
  document.addEventListener("spares:copy", lookAgain);
  setInterval(look, LOOK_AT_CLOCK_EVERY_MS);
  document.addEventListener("visibilitychange", look);
  root.addEventListener("pageshow", look);
  root.addEventListener("focus", look);
})(/** @type {any} */ (globalThis));
