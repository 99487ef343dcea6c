// The finder's box on the page, in the place of its links: what is typed, where the keys lead, what the address asks for.
//
// The list is ordinary links under the box, told of by a status line; arrows lead from the box through the links. What
// finds and lists (finder.js) is read when the box is used for the first time.
(function () {
  "use strict";

  const { base, catalogue, filterRow, fromAddress, keepInAddress, made } = spares.screen;

  const HOME_PAGE = "index.html";
  const SHOWN_AT_ONCE = { home: 24, top: 6 };
  const LONGEST = 240;
  const LOW = "(max-height: 30rem)";
  const NO_FILTER = { fleet: "", place: "", verdict: "", stock: false };

  /** @param {HTMLElement} box */
  function start(box) {
    const finder = laidOut(box);
    listen(finder);
    if (finder.place !== "home") return;
    open(finder);
    window.addEventListener("hashchange", () => { if (fromAddress().query !== finder.input.value) open(finder); });
  }

  /** The box, its filters and its list, in the place of the link for readers without scripts.
   * @param {HTMLElement} box @returns {FinderBox} */
  function laidOut(box) {
    const words = globalThis.sparesRules.words;
    const said = words.finder;
    const place = box.classList.contains("finder--home") ? "home" : "top";
    const id = `finder-${place}`;
    const input = made("input", "finder__input", {
      type: "search", id, name: "q", placeholder: said.placeholder_short,
      autocomplete: "off", autocapitalize: "off", autocorrect: "off", spellcheck: "false", enterkeyhint: "search", "aria-describedby": `${id}-told`,
    });
    const clear = made("button", "finder__clear", { type: "button", "aria-label": said.clear }, "✕");
    const told = made("p", "finder__told", { id: `${id}-told`, role: "status" });
    const list = made("div", "finder__found", {});
    const cut = made("p", "finder__cut", { role: "status" });
    const filters = place === "home" ? filterRow(words, id) : null;
    const panel = made("div", "finder__panel", {}, told, ...(filters ? [filters.row] : []), list);
    const form = made("form", "finder__form", { role: "search", action: new URL(HOME_PAGE, base).href },
      made("label", "finder__unseen", { for: id }, said.label), made("div", "finder__row", {}, input, clear), cut);
    const before = [...box.childNodes];
    box.replaceChildren(form, panel);
    keepWhole(input, place === "home" ? [said.placeholder, said.placeholder_narrow, said.placeholder_short] : [said.placeholder_short]);
    clear.hidden = true;
    panel.hidden = place === "top";
    return { box, before, place, words, form, input, clear, cut, told, panel, list, filters, shown: SHOWN_AT_ONCE[place], query: "", telling: 0, counting: 0, ask, update };
  }

  /** What the empty box says is the longest that has room, and smaller where even the shortest has none.
   * @param {HTMLInputElement} input @param {string[]} texts the longest first */
  function keepWhole(input, texts) {
    const pen = document.createElement("canvas").getContext("2d");
    if (!pen) return;
    const fit = () => {
      const style = getComputedStyle(input);
      const room = input.clientWidth - parseFloat(style.paddingInlineStart) - parseFloat(style.paddingInlineStart);
      if (room <= 0) return;
      pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      const wide = (/** @type {string} */ text) => pen.measureText(text).width * 1.03;
      const text = texts.find((each) => wide(each) <= room) || texts[texts.length - 1];
      input.placeholder = text;
      input.style.setProperty("--hold", String(Math.min(1, Math.max(0.4, room / wide(text)))));
    };
    new ResizeObserver(fit).observe(input);
    fit();
  }

  /** @param {FinderBox} finder */
  function listen(finder) {
    const { box, input, clear, form, list, panel, filters, place } = finder;
    input.addEventListener("input", () => { put(finder, input.value); changed(finder); makeRoom(finder); });
    input.addEventListener("focus", () => { if (input.value || place === "home") update(finder); else catalogue().catch(() => update(finder)); });
    clear.addEventListener("click", () => ask(finder, ""));
    if (filters) filters.row.addEventListener("input", () => changed(finder));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      enter(finder);
    });
    box.addEventListener("keydown", (event) => arrows(event, finder));
    for (const news of ["spares:copy", "spares:vehicle"]) document.addEventListener(news, () => { if (input.value || list.childElementCount) update(finder); });
    document.addEventListener("pointerdown", (event) => {
      if (place === "top" && !box.contains(/** @type {Node} */ (event.target))) panel.hidden = true;
    });
  }

  /** What is typed is meant: its vehicle is chosen, the one answer opens, the first of several is reached.
   * @param {FinderBox} finder */
  async function enter(finder) {
    await update(finder);
    if (spares.screen.settleTyped) spares.screen.settleTyped(); // read with what finds, which may be missing
    await update(finder);
    const links = /** @type {NodeListOf<HTMLAnchorElement>} */ (finder.list.querySelectorAll(".hit__link"));
    if (links.length === 1 && !finder.list.querySelector(".finder__none, .finder__likely")) links[0].click();
    else if (links.length) links[0].focus();
  }

  /** Down from the box into the links and up again; Escape goes back to the box or closes the panel.
   * @param {KeyboardEvent} event @param {FinderBox} finder */
  function arrows(event, { input, list, panel, place }) {
    /** @type {HTMLElement[]} */
    const stops = [input, .../** @type {NodeListOf<HTMLElement>} */ (list.querySelectorAll("a, button"))];
    const at = stops.indexOf(/** @type {HTMLElement} */ (event.target));
    if (at < 0) return;
    /** @type {Record<string, HTMLElement | undefined>} */
    const ways = { ArrowDown: stops[at + 1], ArrowUp: stops[at - 1], Escape: at > 0 ? input : undefined };
    const next = ways[event.key];
    if (next) {
      event.preventDefault();
      next.focus();
    } else if (event.key === "Escape" && place === "top") panel.hidden = true;
  }

  /** What the address asks for.
   * @param {FinderBox} finder */
  function open(finder) {
    const { query, filter } = fromAddress();
    put(finder, query);
    finder.filters?.set(filter);
    update(finder).then(() => makeRoom(finder));
  }

  /** On a phone that lies on its side, what is above the box scrolls away once something is asked, so that an answer is seen.
   * @param {FinderBox} finder */
  function makeRoom({ form, place, input }) {
    if (place === "home" && input.value && matchMedia(LOW).matches) form.scrollIntoView({ block: "start" });
  }

  /** What is longer than anybody types is cut, and that is told.
   * @param {FinderBox} finder @param {string} query */
  function put(finder, query) {
    const isLong = query.length > LONGEST;
    if (isLong || finder.input.value !== query) finder.input.value = query.slice(0, LONGEST);
    finder.cut.textContent = isLong ? spares.judge.filled(finder.words.finder.cut, { n: LONGEST }, finder.words) : "";
  }

  /** @param {FinderBox} finder @param {string} query */
  function ask(finder, query) {
    put(finder, query);
    changed(finder);
    finder.input.focus();
  }

  /** @param {FinderBox} finder */
  function changed(finder) {
    if (finder.input.value !== finder.query) finder.shown = SHOWN_AT_ONCE[finder.place];
    finder.query = finder.input.value;
    if (finder.place === "home") keepInAddress(finder.query, filterOf(finder));
    update(finder);
  }

  /** @param {FinderBox} finder */
  function filterOf(finder) {
    return finder.filters ? finder.filters.value() : NO_FILTER;
  }

  /** @param {FinderBox} finder @returns {Promise<void>} */
  function update(finder) {
    finder.clear.hidden = finder.input.value === "";
    return catalogue().then((parts) => spares.screen.showFound(finder, parts, filterOf(finder))).catch((reason) => {
      console.error("spares: the finder cannot be used.", reason);
      finder.panel.hidden = false;
      finder.told.textContent = finder.words.finder.broken;
      finder.list.replaceChildren(made("p", "finder__none", {}, finder.words.finder.broken), ...finder.before);
    });
  }

  for (const box of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-finder]"))) {
    try {
      start(box);
    } catch (reason) {
      console.error("spares: the finder cannot be used; its links stay.", reason);
    }
  }
})();
