// What does the finder show on the page? The list for what is typed and filtered, and the counts beside the filters.
(function () {
  "use strict";

  const { counted, filled, localDay, standings, standingsOfPiece } = spares.judge;
  const { counts, passes, rank } = spares.finder;
  const { addressFor, base, copyFacts, endedBefore, heardOf, leadsTo, listed, made, notice, noticeLines, sorted, spoken, standingFor, typedVehicle, vain, vehicle, withVehicle } = spares.screen;

  const HOME_PAGE = "index.html";
  const REQUEST_PAGE = "request.html";
  const MORE_AT_ONCE = 72;
  const TELL_AFTER_MS = 700;
  const COUNT_AFTER_MS = 60;
  const NO_FILTER = { fleet: "", place: "", verdict: "", stock: false };

  /** @param {FinderBox} finder @param {Catalogue} parts @param {Filter} filter */
  function showFound(finder, parts, filter) {
    const ranked = rank(parts.index, finder.input.value, String(vehicle()?.number ?? ""));
    const isFiltered = Object.values(filter).some(Boolean);
    const vehicles = heardOf(parts, ranked, finder.input.value);
    typedVehicle(finder, vehicles);
    const isOnIt = (/** @type {Candidate} */ each) => !vehicles.vehicles.length || each.standing().shown.length > 0;
    const candidates = ranked.items.length ? ranked.hits.map((hit) => candidate(parts, hit, vehicles, spares.finder.batchFound(ranked, hit.at), against(ranked, hit.at))) : everyPart(parts, vehicles);
    const asked = ranked.items.length > 0 || isFiltered;
    vain.answered(finder.input.value, { typed: finder.input.value === finder.query, inVain: spares.finder.vain.isInVain(ranked) });
    finder.panel.hidden = finder.place === "top" && !asked;
    countSoon(finder, parts, () => candidates.filter(isOnIt), filter);
    if (!asked) {
      finder.list.replaceChildren(...(finder.place === "home" ? [examples(finder)] : []));
      tell(finder, "");
      return;
    }
    const told = notice(parts.data, vehicles);
    const found = sorted(candidates, (each) => passes(parts.data, each, filter) && (!isFiltered || isOnIt(each)), finder.place, ranked.said, { isStrange: vehicles.stranger !== null || isUntold(ranked.label), isAnswer: ranked.items.length > 0 });
    const more = (/** @type {number} */ n) => (finder.place === "home" ? moreButton(finder, n - finder.shown) : allLink(finder, n));
    refilled(finder, [...labelLines(finder, ranked), ...noticeLines(finder, told), ...listed(found, parts, ranked, { words: finder.words, base }, { shown: finder.shown, more, ask: (text) => askLink(finder, filter, text) })]);
    leadOn(finder, leadsTo(vehicles));
    tell(finder, [told.text, spoken(found, finder.words)].filter(Boolean).join(" "));
  }

  /** What was typed names two pieces, none that can be told, or only looks like a label: the batches that may be meant, each taken by a hand alone.
   * @param {FinderBox} finder @param {Ranked} ranked */
  function labelLines(finder, { label }) {
    if (!label) return [];
    const said = finder.words.finder;
    const line = label.unread ? filled(said.unread_beside, { said: label.unread.join(" … ") }, finder.words) : label.text ? filled(said.two_labels, { said: label.text }, finder.words) : isUntold(label) ? said.which_piece : said.label_meant;
    const buttons = label.meant.map((name) => spares.screen.pressable(name, "finder__alike", () => finder.ask(finder, name)));
    return [made("p", "finder__vehicle", {}, made("span", "", {}, line), ...buttons)];
  }

  /** Whether a piece is spoken of, and neither a part nor a batch can be told from it.
   * @param {LabelAsked | undefined} label */
  const isUntold = (label) => label !== undefined && !label.unread && !label.text && !label.meant.length;

  /** The list anew; what had the focus has it again, for a vehicle may be taken as soon as the keyboard leaves the box.
   * @param {FinderBox} finder @param {Node[]} lines */
  function refilled({ list }, lines) {
    const stops = () => [.../** @type {NodeListOf<HTMLElement>} */ (list.querySelectorAll("a, button"))];
    const name = (/** @type {HTMLElement} */ stop) => `${stop.className} ${stop.textContent}`;
    const held = stops().find((stop) => stop === document.activeElement);
    const at = held ? stops().indexOf(held) : -1;
    list.replaceChildren(...lines);
    if (!held) return;
    const same = stops().find((stop) => (held.classList.contains("hit__link") ? hitOf(stop) === hitOf(held) : name(stop) === name(held)));
    (same || stops()[at])?.focus({ preventScroll: true });
  }

  /** Where a hit leads, for whatever vehicle.
   * @param {HTMLElement} stop */
  const hitOf = (stop) => (stop.getAttribute("href") || "").split(/[?#]/)[0];

  /** What was found for a vehicle opens for it too.
   * @param {FinderBox} finder @param {string} to */
  function leadOn(finder, to) {
    if (!to) return;
    for (const link of /** @type {NodeListOf<HTMLAnchorElement>} */ (finder.list.querySelectorAll(".hit__link"))) {
      link.href = withVehicle(new URL(link.href), to).href;
      link.dataset.vehicle = to;
    }
  }

  /** What a query says against the piece that it names: its label does not agree, or something beside it is not understood.
   * @param {Ranked} ranked @param {number} at @returns {Facts | null} */
  function against(ranked, at) {
    if (spares.finder.isWrongLabel(ranked, at)) return { piece_same: "other label" };
    return spares.finder.isUnread(ranked, at) ? { piece: "unknown" } : null;
  }

  /** A hit with its record, and how it stands today, with the vehicles that were asked for, once somebody wants to know.
   * Found by the number of a batch, it stands as a piece of that batch does.
   * @param {Catalogue} parts @param {Hit} hit @param {Heard} vehicles @param {string} [batch] @param {Facts | null} [against] what speaks against its piece
   * @returns {Candidate} */
  function candidate(parts, hit, vehicles, batch = "", against = null) {
    const record = parts.data.records[hit.at];
    /** @type {(Standing & { judged: Stand[] }) | null} */
    let told = null;
    const stands = () => {
      const [today, copy, ended] = [localDay(new Date()), copyFacts(record.number), endedBefore(record.number)];
      return batch
        ? standingsOfPiece(parts.data, record, today, globalThis.sparesRules, copy, ended, batch, against)
        : standings(parts.data, record, today, globalThis.sparesRules, copy, ended);
    };
    const standing = () => (told = told || standingFor(parts.data, stands(), vehicles));
    return { ...hit, record, standing, stands: () => standing().judged };
  }

  /** @param {Catalogue} parts @param {Heard} vehicles */
  function everyPart(parts, vehicles) {
    return parts.data.records
      .map((_record, at) => candidate(parts, { at, score: 0, sure: true }, vehicles))
      .filter((each) => each.record.kind === "part");
  }

  /** The counts beside the filters, a moment after the list, which is what one waits for.
   * @param {FinderBox} finder @param {Catalogue} parts @param {() => Candidate[]} candidates @param {Filter} filter */
  function countSoon(finder, parts, candidates, filter) {
    const row = finder.filters;
    if (!row) return;
    clearTimeout(finder.counting);
    finder.counting = setTimeout(() => {
      const ofParts = candidates().filter((each) => each.record.kind === "part");
      const sure = ofParts.filter((each) => each.sure);
      row.show(counts(parts.data, sure.length ? sure : ofParts, filter));
    }, COUNT_AFTER_MS);
  }

  /** Told to a screen reader once typing rests; until then nothing is said, rather than what was said of another list.
   * @param {FinderBox} finder @param {string} line */
  function tell(finder, line) {
    clearTimeout(finder.telling);
    if (finder.told.textContent === line) return;
    finder.told.textContent = "";
    finder.telling = setTimeout(() => { finder.told.textContent = line; }, TELL_AFTER_MS);
  }

  /** @param {FinderBox} finder */
  function examples(finder) {
    const said = finder.words.finder;
    const buttons = said.examples.map((example) => {
      const button = made("button", "finder__example", { type: "button" }, example);
      button.addEventListener("click", () => finder.ask(finder, example));
      return button;
    });
    return made("p", "finder__examples", {}, made("span", "", {}, said.such_as), ...buttons);
  }

  /** @param {FinderBox} finder @param {number} n */
  function moreButton(finder, n) {
    const button = made("button", "button finder__more", { type: "button" }, counted(finder.words.finder.more, n, {}, finder.words));
    button.addEventListener("click", () => {
      const at = finder.shown;
      finder.shown += MORE_AT_ONCE;
      finder.update(finder).then(() => /** @type {NodeListOf<HTMLElement>} */ (finder.list.querySelectorAll(".hit__link"))[at]?.focus());
    });
    return button;
  }

  /** @param {FinderBox} finder @param {number} n */
  function allLink(finder, n) {
    const href = addressFor(new URL(HOME_PAGE, base), finder.input.value, NO_FILTER);
    return made("a", "finder__all", { href }, counted(finder.words.finder.all, n, {}, finder.words));
  }

  /** @param {FinderBox} finder @param {Filter} filter @param {string} text */
  function askLink(finder, filter, text) {
    const href = addressFor(new URL(REQUEST_PAGE, base), finder.input.value, filter);
    const link = made("a", "button finder__ask", { href }, text);
    link.addEventListener("click", () => vain.count(finder.input.value));
    return link;
  }

  spares.screen = { ...spares.screen, showFound };
})();
