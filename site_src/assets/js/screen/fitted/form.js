// "I have fitted it": what went onto a vehicle and what came off it, row by row, kept on the tablet until it is handed over.
(function () {
  "use strict";

  const data = globalThis.sparesFitted;
  const { counted, filled, localDay, asBatch } = spares.judge;
  const { aboutFitted, fittedList, givenOver, made, pressable: button } = spares.screen;
  const { choiceField, selectField, textField } = spares.screen.fields;
  const LOOK_AFTER_MS = 150;
  const today = () => localDay(new Date());
  const rules = () => globalThis.sparesRules.words;

  /** What the address asks for: after "?" over http, after "#" from disk. */
  const asked = () => ({ ...Object.fromEntries(new URLSearchParams(location.search)), ...Object.fromEntries(new URLSearchParams(location.hash.slice(1))) });

  function fieldsOf() {
    const words = /** @type {RequestWords} */ (/** @type {unknown} */ (data.words));
    const short = { maxlength: "14", autocapitalize: "characters", spellcheck: "false" };
    const count = { inputmode: "numeric", maxlength: "4" };
    const year = Number(today().slice(0, 4));
    return {
      vehicle: textField("vehicle", words, { maxlength: "40", autocapitalize: "characters", spellcheck: "false" }),
      site: choiceField("site", words, false),
      position: textField("position", words, { maxlength: "80" }, true),
      batch: textField("batch", words, short),
      count: textField("count", words, count),
      removed: textField("removed", words, count),
      removed_batch: textField("removed_batch", words, short, true),
      why: choiceField("why", words, false),
      by: selectField("by", words, data.roles, words.choose_role),
      day: textField("day", words, { type: "date", max: today(), min: `${year - 1}${today().slice(4)}` }),
    };
  }

  /** The rows that wait, and the ways to hand them over; drawn anew after each change.
   * @param {HTMLElement} place @param {HTMLElement} whole what a hand-over takes the place of */
  function showList(place, whole) {
    const said = data.words.list;
    const kept = fittedList.read();
    const again = () => showList(place, whole);
    const lines = kept.rows.map((row) => {
      const name = data.fleets.find((each) => each.id === row.fleet)?.places[row.place] || row.place;
      const on = row.batch ? [filled(said.went_on, { count: String(row.count), batch: row.batch }, rules())] : [];
      const off = row.removed ? [filled(said.came_off, { removed: String(row.removed), removed_batch: row.removed_batch || "", why: data.words.why[row.why || ""] || "" }, rules())] : [];
      const text = [filled("{day:date}", { day: row.day }, rules()), `${row.fleet} ${row.vehicle} · ${name}${row.position ? ` · ${row.position}` : ""}`, row.part || "", ...on, ...off].filter(Boolean).join(" · ");
      return made("li", "fitted__row", {}, made("bdi", "", {}, text), button(said.drop, "fitted__drop", () => {
        fittedList.keep({ ...fittedList.read(), rows: fittedList.read().rows.filter((each) => each.row !== row.row) });
        again();
      }));
    });
    const list = lines.length ? [made("h2", "", { tabindex: "-1" }, said.heading), made("p", "", {}, said.says), made("ul", "fitted__rows", { role: "list" }, ...lines), button(said.make, "button--main fitted__make", () => handOver(whole, again))] : [];
    place.replaceChildren(...list, ...handedBefore(kept, again));
  }

  /** @param {FittedKept} kept @param {() => void} again */
  function handedBefore({ rows, handed }, again) {
    if (!handed || !handed.rows.length) return [];
    const back = button(data.words.back, "fitted__back", () => {
      const known = new Set(rows.map((row) => row.row));
      fittedList.keep({ rows: [...handed.rows.filter((row) => !known.has(row.row)), ...rows], handed: null });
      again();
    });
    return [made("p", "fitted__handed", {}, filled(data.words.handed, { n: String(handed.rows.length), day: handed.day }, rules()), " ", back)];
  }

  /** @param {HTMLElement} whole @param {() => void} again */
  function handOver(whole, again) {
    const rows = fittedList.read().rows;
    const day = today();
    const text = spares.request.fittedText(rows, data, day);
    givenOver(whole, { text, short: text, file: `fitted-${day}.yml` }, data, again, () => {
      const gone = new Set(rows.map((row) => row.row));
      fittedList.keep({ rows: fittedList.read().rows.filter((row) => !gone.has(row.row)), handed: { day, rows } });
    });
  }

  /** @param {string} part @param {HTMLElement} list @param {HTMLElement} whole */
  function formOf(part, list, whole) {
    const fields = fieldsOf();
    const stands = made("div", "fitted__stands", { role: "status" });
    const told = made("p", "request__told", { role: "status" });
    const names = /** @type {(keyof typeof fields)[]} */ (Object.keys(fields));
    const typed = () => {
      const values = /** @type {TypedFitted} */ (Object.fromEntries(names.map((name) => [name, fields[name].get()])));
      const fleets = data.fleets.map(({ id, vehicles }) => ({ id, vehicles }));
      return { ...values, vehicle: spares.vehicles.meantBy(values.vehicle, fleets) || values.vehicle.trim() };
    };
    const siteOf = (/** @type {TypedFitted} */ now) => spares.request.sitesOf(data, part, now.vehicle).find((each) => each.id === now.site);
    const batchOf = (/** @type {TypedFitted} */ now) => asBatch(now.batch) || now.batch.trim();
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    let looking;

    function offerSites() {
      const sites = spares.request.sitesOf(data, part, typed().vehicle);
      const several = new Set(sites.map((each) => each.fleet)).size > 1;
      fields.site.offer(sites.map((each) => ({ id: each.id, name: several ? `${each.fleet} · ${each.name}` : each.name })));
      if (sites.length === 1) fields.site.set(sites[0].id);
      fields.site.element.hidden = sites.length === 0;
    }

    async function look() {
      const now = typed();
      if (!batchOf(now) || !siteOf(now)) {
        stands.replaceChildren();
        return;
      }
      const { stands: found } = await aboutFitted(part, siteOf(now), now.vehicle, batchOf(now));
      if (found?.verdict === "fit") stands.replaceChildren();
      else stands.replaceChildren(made("p", "", {}, made("b", "", {}, found ? filled(data.words.stands, { verdict: found.word, reason: found.reason }, rules()) : data.words.stands_unknown)), made("p", "", {}, data.words.stands_says));
    }

    /** @param {Record<string, string>} wrong @param {TypedFitted} now @param {BatchFound} about */
    function mark(wrong, now, about) {
      const facts = { most: String(siteOf(now)?.most || ""), number: about.other, day: about.released };
      for (const name of names) fields[name].fault(wrong[name] ? filled(data.words.wrong[wrong[name]], facts, rules()) : "");
      const first = names.find((name) => wrong[name]);
      const n = Object.keys(wrong).length;
      told.textContent = n ? counted(data.words.missing, n, {}, rules()) : "";
      if (!first) return true;
      fields[first].focus();
      fields[first].element.scrollIntoView({ block: "center" });
      return false;
    }

    async function add() {
      const now = typed();
      const { about } = await aboutFitted(part, siteOf(now), now.vehicle, batchOf(now));
      if (!mark(spares.request.fittedProblems(now, data, part, today(), about), now, about)) return;
      const kept = fittedList.read();
      if (kept.rows.length >= data.most_rows) {
        told.textContent = filled(data.words.wrong.full, { n: String(kept.rows.length) }, rules());
        return;
      }
      const isKept = fittedList.keep({ ...kept, rows: [...kept.rows, spares.request.fittedRow(now, data, part, fittedList.newRow())] });
      told.textContent = isKept ? "" : data.words.unkept;
      for (const name of /** @type {const} */ (["position", "count", "removed", "removed_batch", "why"])) fields[name].set("");
      showList(list, whole);
      list.querySelector("h2")?.scrollIntoView({ block: "start" });
    }

    fields.why.offer(data.whys.map((why) => ({ id: why, name: data.words.why[why] })));
    fields.vehicle.set(spares.screen.vehicle()?.number || "");
    fields.batch.set(asked().batch || "");
    fields.day.set(today());
    offerSites();
    const form = made("form", "request__form", { novalidate: "" }, made("h2", "", { tabindex: "-1" }, filled(data.words.of_part, { number: part, name: data.parts[part].name }, rules())),
      ...names.map((name) => fields[name].element), stands, made("button", "button button--main", { type: "submit" }, data.words.add), told);
    const later = () => { clearTimeout(looking); looking = setTimeout(look, LOOK_AFTER_MS); };
    fields.vehicle.element.addEventListener("input", offerSites);
    form.addEventListener("input", later);
    form.addEventListener("change", later);
    form.addEventListener("submit", (/** @type {Event} */ event) => { event.preventDefault(); add(); });
    document.addEventListener("spares:copy", later);
    document.addEventListener("spares:vehicle", () => {
      const carried = spares.screen.vehicle();
      if (!carried) return;
      fields.vehicle.set(carried.number);
      offerSites();
      later();
    });
    later();
    return form;
  }

  function start() {
    const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-fitted-form]"));
    if (!place || !data) return;
    const part = asked().part || "";
    const list = made("section", "fitted__list", {});
    const isKnown = Object.prototype.hasOwnProperty.call(data.parts, part);
    place.replaceChildren(isKnown ? formOf(part, list, place) : made("p", "", {}, data.words.no_part), list);
    showList(list, place);
  }

  start();
  window.addEventListener("hashchange", start);
})();
