// The finder on the page: a box, what was found as one types, filters, and an address that carries the query.
//
// The list is ordinary links under a box, told of by a status line; arrows lead from the box through the links.
(function (root) {
  "use strict";

  const { made, addressFor, keepInAddress, fromAddress, filterRow, sorted, listed, spoken, passes, counts } = root.spares;
  const spares = root.spares;
  const base = new URL("../../", /** @type {HTMLScriptElement} */ (document.currentScript).src);

  const HOME_PAGE = "index.html";
  const REQUEST_PAGE = "request.html";
  const SHOWN_AT_ONCE = { home: 24, top: 6 };
  const LONGEST = 240;
  const TELL_AFTER_MS = 700;
  const COUNT_AFTER_MS = 60;
  const NARROW = root.matchMedia("(max-width: 34rem)");
  const NO_FILTER = { fleet: "", place: "", verdict: "", stock: false };

  /** @typedef {{ data: any, index: any }} Parts */
  /** @typedef {{ box: HTMLElement, before: Node[], place: "home" | "top", words: any, form: any, input: any, clear: any,
   *   told: any, panel: any, list: any, filters: any, shown: number, query: string, telling: any, counting: any }} Finder */

  /** @type {Promise<Parts> | null} */
  let loading = null;

  /** The index of all parts, read once and only when somebody wants to find something. @returns {Promise<Parts>} */
  function catalogue() {
    loading = loading || spares.readLate("assets/data/finder.js", "sparesIndex")
      .then((/** @type {any} */ data) => ({ data, index: spares.prepare(data) }));
    return /** @type {Promise<Parts>} */ (loading);
  }

  /** @param {HTMLElement} box */
  function start(box) {
    const finder = laidOut(box);
    listen(finder);
    if (finder.place !== "home") return;
    open(finder);
    root.addEventListener("hashchange", () => { if (fromAddress().query !== finder.input.value) open(finder); });
  }

  /** The box, its filters and its list, in the place of the link for readers without scripts.
   * @param {HTMLElement} box @returns {Finder} */
  function laidOut(box) {
    const words = root.sparesRules.words;
    const said = words.finder;
    const place = box.classList.contains("finder--home") ? "home" : "top";
    const id = `finder-${place}`;
    const input = made("input", "finder__input", {
      type: "search", id, name: "q", maxlength: String(LONGEST), placeholder: place !== "home" ? said.placeholder_short : NARROW.matches ? said.placeholder_narrow : said.placeholder,
      autocomplete: "off", autocapitalize: "off", autocorrect: "off", spellcheck: "false", enterkeyhint: "search", "aria-describedby": `${id}-told`,
    });
    const clear = made("button", "finder__clear", { type: "button", "aria-label": said.clear }, "✕");
    const told = made("p", "finder__told", { id: `${id}-told`, role: "status" });
    const list = made("div", "finder__found", {});
    const filters = place === "home" ? filterRow(words, id) : null;
    const panel = made("div", "finder__panel", {}, told, ...(filters ? [filters.row] : []), list);
    const form = made("form", "finder__form", { role: "search", action: new URL(HOME_PAGE, base).href },
      made("label", "finder__unseen", { for: id }, said.label), made("div", "finder__row", {}, input, clear));
    const before = [...box.childNodes];
    box.replaceChildren(form, panel);
    if (place === "home") NARROW.addEventListener("change", () => { input.placeholder = NARROW.matches ? said.placeholder_narrow : said.placeholder; });
    clear.hidden = true;
    panel.hidden = place === "top";
    return { box, before, place, words, form, input, clear, told, panel, list, filters, shown: SHOWN_AT_ONCE[place], query: "", telling: 0, counting: 0 };
  }

  /** @param {Finder} finder */
  function listen(finder) {
    const { box, input, clear, form, list, panel, filters, place } = finder;
    input.addEventListener("input", () => changed(finder));
    input.addEventListener("focus", () => { if (input.value || place === "home") update(finder); else catalogue().catch(() => update(finder)); });
    clear.addEventListener("click", () => ask(finder, ""));
    if (filters) filters.row.addEventListener("input", () => changed(finder));
    form.addEventListener("submit", (/** @type {Event} */ event) => {
      event.preventDefault();
      const links = list.querySelectorAll(".hit__link");
      if (links.length === 1 && !list.querySelector(".finder__none")) links[0].click();
      else if (links.length) links[0].focus();
    });
    box.addEventListener("keydown", (event) => arrows(event, finder));
    document.addEventListener("spares:copy", () => { if (input.value || list.childElementCount) update(finder); });
    document.addEventListener("pointerdown", (event) => {
      if (place === "top" && !box.contains(/** @type {Node} */ (event.target))) panel.hidden = true;
    });
  }

  /** Down from the box into the links and up again; Escape goes back to the box or closes the panel.
   * @param {KeyboardEvent} event @param {Finder} finder */
  function arrows(event, { input, list, panel, place }) {
    const stops = [input, ...list.querySelectorAll("a, button")];
    const at = stops.indexOf(event.target);
    if (at < 0) return;
    const next = { ArrowDown: stops[at + 1], ArrowUp: stops[at - 1], Escape: at > 0 ? input : undefined }[event.key];
    if (next) {
      event.preventDefault();
      next.focus();
    } else if (event.key === "Escape" && place === "top") panel.hidden = true;
  }

  /** What the address asks for. @param {Finder} finder */
  function open(finder) {
    const { query, filter } = fromAddress();
    finder.input.value = query.slice(0, LONGEST);
    finder.filters.set(filter);
    update(finder);
  }

  /** @param {Finder} finder @param {string} query */
  function ask(finder, query) {
    finder.input.value = query;
    changed(finder);
    finder.input.focus();
  }

  /** @param {Finder} finder */
  function changed(finder) {
    if (finder.input.value !== finder.query) finder.shown = SHOWN_AT_ONCE[finder.place];
    finder.query = finder.input.value;
    if (finder.place === "home") keepInAddress(finder.query, filterOf(finder));
    update(finder);
  }

  /** @param {Finder} finder */
  function filterOf(finder) {
    return finder.filters ? finder.filters.value() : NO_FILTER;
  }

  /** @param {Finder} finder @returns {Promise<void>} */
  function update(finder) {
    finder.clear.hidden = finder.input.value === "";
    return catalogue().then((parts) => show(finder, parts)).catch((reason) => {
      console.error("spares: the finder cannot be used.", reason);
      finder.panel.hidden = false;
      finder.told.textContent = finder.words.finder.broken;
      finder.list.replaceChildren(...finder.before);
    });
  }

  /** @param {Finder} finder @param {Parts} parts */
  function show(finder, parts) {
    const filter = filterOf(finder);
    const ranked = spares.rank(parts.index, finder.input.value);
    const isFiltered = Object.values(filter).some(Boolean);
    const vehicles = spares.askedOf(parts.index, ranked.items);
    const candidates = ranked.items.length ? ranked.hits.map((/** @type {any} */ hit) => candidate(parts, hit, vehicles)) : everyPart(parts, vehicles);
    const asked = ranked.items.length > 0 || isFiltered;
    finder.panel.hidden = finder.place === "top" && !asked;
    countSoon(finder, parts, candidates, filter);
    if (!asked) {
      finder.list.replaceChildren(...(finder.place === "home" ? [examples(finder)] : []));
      tell(finder, "");
      return;
    }
    const found = sorted(candidates, (each) => passes(parts.data, each, filter), finder.place);
    const more = (/** @type {number} */ n) => (finder.place === "home" ? moreButton(finder, n - finder.shown) : allLink(finder, n));
    finder.list.replaceChildren(...listed(found, parts, ranked, { words: finder.words, base }, { shown: finder.shown, more, ask: () => askLink(finder) }));
    tell(finder, spoken(found, finder.words));
  }

  /** A hit with its record, and how it stands today, with the vehicles that were asked for, once somebody wants to know.
   * @param {Parts} parts @param {any} hit @param {any} vehicles */
  function candidate(parts, hit, vehicles) {
    const record = parts.data.records[hit.at];
    /** @type {any} */
    let told = null;
    const standing = () => (told = told || spares.forAsked(
      parts.data, spares.standings(parts.data, record, spares.localDay(new Date()), root.sparesRules), vehicles));
    return { ...hit, record, standing, stands: () => standing().judged };
  }

  /** @param {Parts} parts @param {any} vehicles */
  function everyPart(parts, vehicles) {
    return parts.data.records
      .map((/** @type {any} */ _record, /** @type {number} */ at) => candidate(parts, { at, score: 0, sure: true }, vehicles))
      .filter((/** @type {any} */ each) => each.record.kind === "part");
  }

  /** The counts beside the filters, a moment after the list, which is what one waits for.
   * @param {Finder} finder @param {Parts} parts @param {any[]} candidates @param {any} filter */
  function countSoon(finder, parts, candidates, filter) {
    if (!finder.filters) return;
    clearTimeout(finder.counting);
    finder.counting = setTimeout(() => {
      const ofParts = candidates.filter((each) => each.record.kind === "part");
      const sure = ofParts.filter((each) => each.sure);
      finder.filters.show(counts(parts.data, sure.length ? sure : ofParts, filter));
    }, COUNT_AFTER_MS);
  }

  /** Told to a screen reader once typing rests. @param {Finder} finder @param {string} line */
  function tell(finder, line) {
    clearTimeout(finder.telling);
    finder.telling = setTimeout(() => { finder.told.textContent = line; }, TELL_AFTER_MS);
  }

  /** @param {Finder} finder */
  function examples(finder) {
    const said = finder.words.finder;
    const buttons = said.examples.map((/** @type {string} */ example) => {
      const button = made("button", "finder__example", { type: "button" }, example);
      button.addEventListener("click", () => ask(finder, example));
      return button;
    });
    return made("p", "finder__examples", {}, made("span", "", {}, said.such_as), ...buttons);
  }

  /** @param {Finder} finder @param {number} n */
  function moreButton(finder, n) {
    const button = made("button", "button finder__more", { type: "button" }, spares.counted(finder.words.finder.more, n, {}, finder.words));
    button.addEventListener("click", () => {
      const at = finder.shown;
      finder.shown += 3 * SHOWN_AT_ONCE.home;
      update(finder).then(() => finder.list.querySelectorAll(".hit__link")[at]?.focus());
    });
    return button;
  }

  /** @param {Finder} finder @param {number} n */
  function allLink(finder, n) {
    const href = addressFor(new URL(HOME_PAGE, base), finder.input.value, NO_FILTER);
    return made("a", "finder__all", { href }, spares.counted(finder.words.finder.all, n, {}, finder.words));
  }

  /** @param {Finder} finder */
  function askLink(finder) {
    const href = addressFor(new URL(REQUEST_PAGE, base), finder.input.value, filterOf(finder));
    return made("a", "button finder__ask", { href }, finder.words.finder.ask);
  }

  root.spares = Object.assign(root.spares, { catalogue }); // the request page asks it too
  for (const box of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-finder]"))) {
    try {
      start(box);
    } catch (reason) {
      console.error("spares: the finder cannot be used; its links stay.", reason);
    }
  }
})(/** @type {any} */ (globalThis));
