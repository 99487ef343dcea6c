// What is to be met before fitting: a box to tick for each, at the verdict that asks for it. Nothing is kept: a page that is
// loaded anew, comes back, is printed or sees another day begins without a tick, for what was met on one piece says nothing
// of the next.
(function () {
  "use strict";

  /** @type {Map<Element, { day: string, texts: Set<string> }>} */
  const known = new Map();
  const { made } = spares.screen;

  /** So long after a tick no other box can be ticked: a double tap, or a finger that slips, never ticks two. */
  const HELD_MS = 600;
  const page = document.documentElement;
  /** So long after the last tick, or out of sight, another piece may be in the hand (common practice, no source). */
  const LAST_MS = 30 * 60 * 1000;
  const HIDDEN_MS = 10 * 60 * 1000;
  const LOOK_EVERY_MS = 20 * 1000;
  let tickedAt = 0;
  let hiddenAt = 0;
  /** The box that was ticked last, while it holds the others. */
  let holder = "";
  /** @type {Timer | undefined} */
  let holding;

  /** @param {string} name of a box */
  function hold(name) {
    holder = name;
    page.setAttribute("data-held", "");
    clearTimeout(holding);
    holding = setTimeout(() => page.removeAttribute("data-held"), HELD_MS);
  }

  /** @param {string} name */
  const isHeld = (name) => page.hasAttribute("data-held") && holder !== name;

  /** What is ticked at a verdict on that day.
   * @param {Element} box @param {string} day @returns {Set<string>} */
  function ticksOf(box, day) {
    const kept = known.get(box);
    if (kept && kept.day === day) return kept.texts;
    const texts = new Set();
    known.set(box, { day, texts });
    return texts;
  }

  /** Put the boxes under the word, where nothing above them changes its height; `changed` is called after each tick.
   * @param {Element} box @param {string} day @param {{ texts: string[], reasons: string[] }} asked what is to be ticked, and
   * the longest reasons there can be, whose room is kept so that no box further down moves either @param {() => void} changed */
  function offerTicks(box, day, { texts, reasons }, changed) {
    const ticks = ticksOf(box, day);
    const words = globalThis.sparesRules.words;
    const list = made("fieldset", "ticks", {}, made("legend", "", {}, words.ticks.says));
    texts.forEach((text, at) => {
      const name = `${box.getAttribute("data-ground")} ${at}`;
      const field = tickField(name, ticks.has(text), (is) => {
        if (is) ticks.add(text);
        else ticks.delete(text);
        tickedAt = Date.now();
        changed();
        /** @type {HTMLElement | undefined} */ (box.querySelectorAll(".ticks input")[at])?.focus({ preventScroll: true });
      });
      list.append(made("label", "tick", {}, field, made("bdi", "", {}, text)));
    });
    box.querySelector(".verdict__word")?.after(list);
    box.classList.add("verdict--ticks");
    keepRoom(box.querySelector(".verdict__reason"), reasons);
    offerNext(box, texts.every((text) => ticks.has(text)), () => {
      ticks.clear();
      if (spares.screen.piece() === null) changed();
      else spares.screen.choosePiece(null); // the next one may be of another batch
    });
  }

  /** A button for the next piece, seen once all is ticked; until then its room holds whom to ask.
   * @param {Element} box @param {boolean} isSeen @param {() => void} next */
  function offerNext(box, isSeen, next) {
    const button = made("button", "button verdict__next", { type: "button" }, globalThis.sparesRules.words.ticks.next);
    button.addEventListener("click", () => {
      hold("");
      next();
      /** @type {HTMLElement | null} */ (box.querySelector(".ticks input"))?.focus({ preventScroll: true });
    });
    if (!isSeen) button.style.visibility = "hidden";
    const room = made("div", "verdict__room", {});
    box.insertBefore(room, box.querySelector(".verdict__steps"));
    room.append(made("div", "", {}, ...box.querySelectorAll(".verdict__ask")), button);
  }

  /** @param {string} name @param {boolean} is @param {(is: boolean) => void} ticked */
  function tickField(name, is, ticked) {
    const field = made("input", "", { type: "checkbox", autocomplete: "off" });
    field.checked = is;
    field.addEventListener("click", (event) => (isHeld(name) ? event.preventDefault() : hold(name)));
    field.addEventListener("change", () => ticked(field.checked));
    return field;
  }

  /** What is not seen keeps the room that another reason will need.
   * @param {Element | null} reason @param {string[]} others */
  function keepRoom(reason, others) {
    if (!reason) return;
    const room = made("div", "verdict__room", {});
    reason.replaceWith(room);
    room.append(reason, ...others.map((text) => made("p", "verdict__unseen", { "aria-hidden": "true" }, made("bdi", "", {}, text))));
  }

  /** Forget every tick, on every verdict.
   * @returns {boolean} whether there was one */
  function forgetTicks() {
    const had = [...known.values()].some((each) => each.texts.size > 0);
    known.clear();
    return had;
  }

  /** Whether it is longer ago; a clock that was set back cannot say, so it is.
   * @param {number} since @param {number} most */
  const isOver = (since, most) => Date.now() - since > most || Date.now() < since;

  /** Forgets every tick when another piece may be in the hand, and before the page is printed.
   * @param {() => void} forgotten called after a tick was forgotten */
  function forgetInTime(forgotten) {
    const forget = () => forgetTicks() && forgotten();
    const look = () => {
      if (tickedAt && isOver(tickedAt, LAST_MS)) forget();
    };
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "hidden") hiddenAt = Date.now();
      else if (hiddenAt && isOver(hiddenAt, HIDDEN_MS)) forget();
      else look();
    });
    window.addEventListener("pageshow", (event) => (event.persisted ? forget() : look()));
    window.addEventListener("focus", look);
    window.addEventListener("beforeprint", forget);
    document.addEventListener("spares:vehicle", forget);
    document.addEventListener("spares:piece", forget);
    setInterval(look, LOOK_EVERY_MS);
  }

  spares.screen = { ...spares.screen, offerTicks, ticksOf, forgetInTime };
})();
