// The finder on the page: a box, what was found as one types, filters, and an address that carries the query.
//
// The list is ordinary links under a box, told of by a status line; arrows lead from the box through the links.
(function (root) {
  "use strict";

  const spares = root.spares;
  const here = /** @type {HTMLScriptElement} */ (document.currentScript).src;
  const base = new URL("../../", here);
  const REQUEST_PAGE = "request.html";
  const SHOWN_AT_ONCE = { home: 24, top: 6 };
  const PERHAPS = 5;
  const ALSO_SHOWN = 0.6;
  const NEARLY = 0.6;
  const LONGEST = 240;
  const TELL_AFTER_MS = 700;
  const FILTERS = ["fleet", "place", "verdict"];

  /** @type {Promise<any> | null} */
  let loading = null;

  /** The index of all parts, fetched once and only when somebody wants to find something. */
  function catalogue() {
    if (!loading) {
      loading = new Promise((resolve, reject) => {
        const script = document.createElement("script");
        script.src = new URL("assets/data/finder.js", base).href;
        script.onload = () => {
          try {
            resolve({ data: root.sparesIndex, index: spares.prepare(root.sparesIndex), stands: new Map(), day: "" });
          } catch (reason) {
            reject(reason);
          }
        };
        script.onerror = () => reject(new Error("assets/data/finder.js cannot be read"));
        document.head.append(script);
      });
    }
    return loading;
  }

  /** How a part stands today; worked out once a day. @param {any} parts @param {number} at */
  function standsOf(parts, at) {
    const day = spares.localDay(new Date());
    if (parts.day !== day) {
      parts.day = day;
      parts.stands.clear();
    }
    if (!parts.stands.has(at)) parts.stands.set(at, spares.standings(parts.data, parts.data.records[at], day, root.sparesRules || {}));
    return parts.stands.get(at);
  }

  /** @param {HTMLElement} box */
  function finder(box) {
    const words = root.sparesRules.words;
    const said = words.finder;
    const isHome = box.classList.contains("finder--home");
    const before = [...box.childNodes];
    const id = isHome ? "finder" : "finder-top";

    const input = made("input", "finder__input", { type: "search", id: `${id}-box`, name: "q", placeholder: isHome ? said.placeholder : said.placeholder_short,
      autocomplete: "off", autocapitalize: "off", autocorrect: "off", spellcheck: "false", enterkeyhint: "search", maxlength: String(LONGEST), "aria-describedby": `${id}-told` });
    const label = made("label", isHome ? "finder__label" : "finder__label finder__unseen", { for: input.id }, said.label);
    const clear = made("button", "finder__clear", { type: "button", "aria-label": said.clear }, "✕");
    const told = made("p", "finder__told", { id: `${id}-told`, role: "status" });
    const list = made("div", "finder__found", {});
    const form = made("form", "finder__form", { role: "search", action: new URL("index.html", base).href }, label, made("div", "finder__row", {}, input, clear));
    const filters = isHome ? filterRow(said, id) : null;
    const panel = made("div", "finder__panel", {}, told, ...(filters ? [filters.row] : []), list);
    box.replaceChildren(form, panel);
    panel.hidden = !isHome;
    clear.hidden = true;

    let shown = SHOWN_AT_ONCE[isHome ? "home" : "top"];
    let lastQuery = "";
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    let telling;

    const filter = () => (filters ? filters.value() : { fleet: "", place: "", verdict: "", stock: false });
    const isFiltered = () => Object.values(filter()).some(Boolean);

    function tell(/** @type {string} */ line) {
      clearTimeout(telling);
      told.setAttribute("data-line", line);
      telling = setTimeout(() => { told.textContent = line; }, TELL_AFTER_MS);
    }

    /** @param {any} parts @returns {any[]} hits that pass the filters, each with how it stands */
    function find(parts) {
      const query = input.value;
      const ranked = spares.rank(parts.index, query);
      const everything = !ranked.items.length && isFiltered();
      const hits = everything ? parts.data.records.flatMap((/** @type {any} */ record, /** @type {number} */ at) => (record.kind === "part" ? [{ at, score: 0, sure: true }] : [])) : ranked.hits;
      const found = hits.map((/** @type {any} */ hit) => ({ ...hit, record: parts.data.records[hit.at], stands: standsOf(parts, hit.at) }));
      return [ranked, found];
    }

    /** @param {any} parts */
    function show(parts) {
      const [ranked, found] = find(parts);
      const asked = ranked.items.length > 0 || isFiltered();
      const isSure = (/** @type {any} */ each) => each.sure;
      const ofParts = found.filter((/** @type {any} */ each) => each.record.kind === "part");
      const everyPart = () => parts.data.records.flatMap((/** @type {any} */ record, /** @type {number} */ at) => (record.kind === "part" ? [{ record, stands: standsOf(parts, at) }] : []));
      const pool = !asked ? everyPart() : ofParts.some(isSure) ? ofParts.filter(isSure) : ofParts.slice(0, 3 * PERHAPS);
      const wanted = filter();
      if (filters) filters.update(spares.counts(parts.data, pool, wanted), words);
      const passing = ofParts.filter((/** @type {any} */ each) => spares.passes(parts.data, each.record, each.stands, wanted));
      const sure = passing.filter(isSure);
      const least = sure.length ? ALSO_SHOWN * sure[0].score : 0;
      const perhaps = passing.filter((/** @type {any} */ each) => !each.sure && each.score >= least).slice(0, sure.length > 2 ? 0 : PERHAPS);
      const requests = found.filter((/** @type {any} */ each) => each.record.kind === "request").slice(0, 2);
      panel.hidden = !isHome && !asked;
      draw(parts, ranked, asked, sure, perhaps, requests);
    }

    /** @param {any} parts @param {any} ranked @param {boolean} asked @param {any[]} sure @param {any[]} perhaps @param {any[]} requests */
    function draw(parts, ranked, asked, sure, perhaps, requests) {
      const page = { words, base };
      const listed = (/** @type {any[]} */ hits) => made("ol", "finder__hits", { role: "list" },
        ...hits.map((hit) => spares.hitElement(parts.index, parts.data, ranked, hit, hit.stands, page)));
      /** @type {Node[]} */
      const content = [];
      if (!asked) {
        if (isHome) content.push(examples());
        told.textContent = "";
        list.replaceChildren(...content);
        return;
      }
      if (sure.length) content.push(listed(sure.slice(0, shown)));
      if (sure.length > shown) content.push(isHome ? moreButton(sure.length - shown) : allLink(sure.length));
      const none = perhaps.length && perhaps[0].score >= NEARLY ? said.none_whole : said.none;
      if (!sure.length) content.push(made("p", "finder__none", {}, none));
      if (perhaps.length) content.push(made("h2", "finder__heading", {}, sure.length ? said.perhaps_too : said.perhaps), listed(perhaps.slice(0, isHome ? PERHAPS : 3)));
      const near = requests.filter((each) => each.sure || !sure.length);
      if (near.length) content.push(made("h2", "finder__heading", {}, said.requests), listed(near));
      if (!sure.length) content.push(askLink());
      list.replaceChildren(...content);
      const first = sure[0] || perhaps[0];
      const count = sure.length ? spares.counted(said.count, sure.length, {}, words) : none;
      tell(first ? spares.filled(said.first, { count, number: first.record.number, name: first.record.name }, words) : count);
    }

    function examples() {
      const buttons = said.examples.map((/** @type {string} */ example) => {
        const button = made("button", "finder__example", { type: "button" }, example);
        button.addEventListener("click", () => { input.value = example; changed(); input.focus(); });
        return button;
      });
      return made("p", "finder__examples", {}, made("span", "", {}, said.such_as), ...buttons);
    }

    function moreButton(/** @type {number} */ n) {
      const button = made("button", "button finder__more", { type: "button" }, spares.counted(said.more, n, {}, words));
      button.addEventListener("click", () => {
        shown += 3 * SHOWN_AT_ONCE.home;
        const at = list.querySelectorAll(".hit__link").length;
        update();
        requestAnimationFrame(() => (/** @type {HTMLElement | null} */ (list.querySelectorAll(".hit__link")[at]))?.focus());
      });
      return button;
    }

    function allLink(/** @type {number} */ n) {
      const link = made("a", "finder__all", {}, spares.counted(said.all, n, {}, words));
      link.href = addressFor(new URL("index.html", base), input.value, filter());
      return link;
    }

    function askLink() {
      const link = made("a", "button finder__ask", {}, said.ask);
      link.href = addressFor(new URL(REQUEST_PAGE, base), input.value, filter());
      return link;
    }

    function update() {
      clear.hidden = input.value === "";
      catalogue().then(show).catch((reason) => {
        console.error("spares: the finder cannot be used.", reason);
        panel.hidden = false;
        told.textContent = said.broken;
        list.replaceChildren(...before);
      });
    }

    function changed() {
      if (input.value !== lastQuery) shown = SHOWN_AT_ONCE[isHome ? "home" : "top"];
      lastQuery = input.value;
      if (isHome) keepInAddress(input.value, filter());
      update();
    }

    input.addEventListener("input", changed);
    input.addEventListener("focus", () => { catalogue().catch(() => update()); if (!isHome && input.value) update(); });
    clear.addEventListener("click", () => { input.value = ""; changed(); input.focus(); });
    if (filters) filters.row.addEventListener("input", changed);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const links = /** @type {NodeListOf<HTMLAnchorElement>} */ (list.querySelectorAll(".hit__link"));
      if (links.length === 1 && !list.querySelector(".finder__none")) links[0].click();
      else if (links.length) links[0].focus();
    });
    box.addEventListener("keydown", (event) => arrows(event, input, list, panel, isHome));
    document.addEventListener("pointerdown", (event) => {
      if (!isHome && !box.contains(/** @type {Node} */ (event.target))) panel.hidden = true;
    });

    if (isHome) {
      const asked = fromAddress();
      input.value = asked.q.slice(0, LONGEST);
      if (filters) filters.set(asked);
      update();
      root.addEventListener("hashchange", () => { const now = fromAddress(); if (now.q !== input.value) { input.value = now.q.slice(0, LONGEST); update(); } });
    }
  }

  /** Down from the box into the links and up again; Escape goes back to the box or closes the panel.
   * @param {KeyboardEvent} event @param {HTMLElement} input @param {HTMLElement} list @param {HTMLElement} panel @param {boolean} isHome */
  function arrows(event, input, list, panel, isHome) {
    const stops = [input, .../** @type {NodeListOf<HTMLElement>} */ (list.querySelectorAll("a, button"))];
    const at = stops.indexOf(/** @type {HTMLElement} */ (event.target));
    if (at < 0) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      const next = stops[at + (event.key === "ArrowDown" ? 1 : -1)];
      if (next) { event.preventDefault(); next.focus(); }
    } else if (event.key === "Escape") {
      if (at > 0) { event.preventDefault(); input.focus(); } else if (!isHome) panel.hidden = true;
    }
  }

  /** @param {any} said @param {string} id */
  function filterRow(said, id) {
    const selects = FILTERS.map((name) => made("select", "finder__select", { name, id: `${id}-${name}` }));
    const stock = made("input", "", { type: "checkbox", name: "stock", id: `${id}-stock` });
    const stockCount = made("span", "finder__count", {});
    const row = made("div", "finder__filters", { role: "group", "aria-label": said.filters },
      ...selects.map((select) => made("label", "finder__filter", { for: select.id }, made("span", "", {}, said[select.name].name), select)),
      made("label", "finder__filter finder__stock", { for: stock.id }, stock, made("span", "", {}, said.stock), stockCount));
    const value = () => ({ ...Object.fromEntries(selects.map((select) => [select.name, select.value])), stock: stock.checked });
    const set = (/** @type {any} */ asked) => {
      selects.forEach((select) => {
        if (asked[select.name]) select.append(made("option", "", { value: asked[select.name] }, asked[select.name]));
        select.value = asked[select.name] || "";
      });
      stock.checked = asked.stock === "1";
    };
    const update = (/** @type {any} */ counted, /** @type {any} */ words) => {
      selects.forEach((select) => {
        const chosen = select.value;
        const options = counted[select.name].filter((/** @type {any} */ each) => each.n || each.value === chosen || !each.value);
        select.replaceChildren(...options.map((/** @type {any} */ each) => made("option", "", { value: each.value },
          spares.filled(said.choice, { name: optionName(select.name, each.value, words), n: String(each.n) }, words))));
        select.value = options.some((/** @type {any} */ each) => each.value === chosen) ? chosen : "";
      });
      stockCount.textContent = String(counted.stock);
    };
    return { row, value, set, update };
  }

  /** @param {string} filter @param {string} value @param {any} words */
  function optionName(filter, value, words) {
    if (!value) return words.finder[filter].any;
    return filter === "verdict" ? words.verdict[value] : value;
  }

  /** The query in an address: after "?" over http, after "#" from disk, where a page may not change the rest.
   * @param {URL} page @param {string} query @param {any} filter */
  function addressFor(page, query, filter) {
    const asked = new URLSearchParams();
    if (query) asked.set("q", query);
    for (const name of FILTERS) if (filter[name]) asked.set(name, filter[name]);
    if (filter.stock) asked.set("stock", "1");
    page[page.protocol === "file:" ? "hash" : "search"] = asked.toString();
    return page.href;
  }

  /** @param {string} query @param {any} filter */
  function keepInAddress(query, filter) {
    try {
      const page = new URL(location.href);
      page.hash = "";
      if (page.protocol !== "file:") page.search = "";
      history.replaceState(history.state, "", addressFor(page, query, filter));
    } catch {
      // a browser may refuse; the finder works all the same
    }
  }

  /** @returns {any} */
  function fromAddress() {
    const asked = { ...Object.fromEntries(new URLSearchParams(location.search)), ...Object.fromEntries(new URLSearchParams(location.hash.slice(1))) };
    return { q: asked.q || "", fleet: asked.fleet || "", place: asked.place || "", verdict: asked.verdict || "", stock: asked.stock || "" };
  }

  /** @param {string} tag @param {string} name @param {Record<string, string>} attributes @param {...(string | Node)} content
   * @returns {any} */
  function made(tag, name, attributes, ...content) {
    const element = document.createElement(tag);
    if (name) element.className = name;
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.append(...content);
    return element;
  }

  root.spares = Object.assign(root.spares, { catalogue, standsOf });
  for (const box of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-finder]"))) {
    try {
      finder(box);
    } catch (reason) {
      console.error("spares: the finder cannot be used; its links stay.", reason);
    }
  }
})(/** @type {any} */ (globalThis));
