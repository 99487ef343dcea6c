// "I have fitted it": what went onto a vehicle and what came off it, row by row, kept on the tablet until it is handed over.
(function () {
  "use strict";

  const data = globalThis.sparesFitted;
  const { counted, filled, localDay } = spares.judge;
  const { lookAlike } = spares.labels;
  const { aboutFitted, fittedList, givenOver, labelledBatches, made, meantBelow, positionField, pressable: button, roleField, seenField, sitsBelow } = spares.screen;
  const { choiceField, textField } = spares.screen.fields;
  const LOOK_AFTER_MS = 150;
  const today = () => localDay(new Date());
  const rules = () => globalThis.sparesRules.words;

  /** What the address asks for: after "?" over http, after "#" from disk. */
  const asked = () => [location.search, location.hash].flatMap((text) => [...new URLSearchParams(text.slice(1))]);

  function fieldsOf() {
    const words = /** @type {RequestWords} */ (/** @type {unknown} */ (data.words));
    const short = { maxlength: "200", autocapitalize: "characters", spellcheck: "false" };
    const count = { inputmode: "numeric", maxlength: "4" };
    const year = Number(today().slice(0, 4));
    return {
      vehicle: textField("vehicle", words, { maxlength: "40", autocapitalize: "characters", spellcheck: "false" }),
      site: choiceField("site", words, false),
      position: positionField("position", words, data.words),
      batch: textField("batch", words, short),
      count: textField("count", words, count),
      removed: textField("removed", words, count),
      removed_batch: textField("removed_batch", words, short, true),
      why: choiceField("why", words, false),
      by: roleField("by", words, data.roles, "fitted"),
      day: textField("day", words, { type: "date", max: today(), min: `${year - 1}${today().slice(4)}` }),
      as_found: seenField("as_found", words),
    };
  }

  /** Whether whoever writes the row has read that this piece must not be there, or that nobody knows it.
   * @param {TypedFitted} now @param {BatchFound} found @param {OfAny | null} verdict */
  const isAgainst = (now, found, verdict) => Boolean(now.batch) && (!verdict || verdict.verdict === "no" || !found.is_known);

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
      const text = [filled("{day:date}", { day: row.day }, rules()), `${row.fleet} ${row.vehicle} · ${name}${row.position ? ` · ${row.position}` : ""}`, row.part || "", ...on, ...off, row.as_found ? said.as_found : ""].filter(Boolean).join(" · ");
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
    return [made("p", "fitted__handed", {}, counted(data.words.handed, handed.rows.length, { day: handed.day }, rules()), " ", back)];
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
      const batches = { batch: labels.batch("batch"), removed_batch: labels.batch("removed_batch") };
      return { ...values, ...batches, vehicle: spares.vehicles.meantBy(values.vehicle, fleets) || values.vehicle.trim() };
    };
    const siteOf = (/** @type {TypedFitted} */ now) => spares.request.sitesOf(data, part, now.vehicle).find((each) => each.id === now.site);
    const labels = labelledBatches(part, fields, () => changed());
    const meantVehicles = meantBelow(fields.vehicle, data.words.meant);
    const showSits = sitsBelow(fields.position, data.words, (batch) => {
      fields.removed.set("1");
      fields.removed_batch.set(batch);
      written.add("removed");
      changed();
      fields.why.focus();
    });
    const sitsNow = (/** @type {TypedFitted} */ now) => spares.request.sitsAt(data, part, siteOf(now), now, fittedList.read().rows);
    /** The other part that the field of the batch tells of; "" for none. */
    let marked = "";
    /** Counts that a hand has written, which nothing is proposed in place of.
     * @type {Set<string>} */
    const written = new Set();
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    let looking;

    function offerSites() {
      const sites = spares.request.sitesOf(data, part, typed().vehicle);
      const several = new Set(sites.map((each) => each.fleet)).size > 1;
      fields.site.offer(sites.map((each) => ({ id: each.id, name: several ? `${each.fleet} · ${each.name}` : each.name })));
      if (sites.length === 1) fields.site.set(sites[0].id);
      fields.site.element.hidden = sites.length === 0;
      offerVehicles(sites.length > 0);
      offerPositions();
    }

    /** Numbers that look like the one that was typed, where none is that one.
     * @param {boolean} isKnown */
    function offerVehicles(isKnown) {
      const fleets = new Set(data.parts[part].fits.map(([fleet]) => fleet));
      const numbers = data.fleets.filter((each) => fleets.has(each.id)).flatMap((each) => spares.vehicles.vehiclesIn(each.vehicles));
      meantVehicles(isKnown ? [] : lookAlike(fields.vehicle.get(), numbers));
    }

    function offerPositions() {
      const site = siteOf(typed());
      fields.position.offer((site && data.parts[part].positions[site.id]?.names) || []);
    }

    /** One piece, where no more than one can be meant; whoever counts otherwise writes it. */
    function propose() {
      const now = typed();
      const site = siteOf(now);
      const there = site && data.parts[part].positions[site.id];
      const isOne = site?.most === 1 || Boolean(there?.one_each && there.names.includes(now.position));
      for (const [name, isMeant] of /** @type {const} */ ([["count", now.batch], ["removed", now.why || now.removed_batch]])) {
        if (!written.has(name)) fields[name].set(isOne && isMeant ? "1" : "");
      }
    }

    /** The batch is of another part: which, whether it is called back, and the way to write it down there.
     * @param {BatchFound} about @param {string} vehicle */
    function ofOther({ other, name, batch, stopped }, vehicle) {
      const words = rules();
      const to = `#${new URLSearchParams({ part: other, batch: batch || "", ...(vehicle ? { vehicle } : {}) })}`;
      const facts = { number: other, name, batch, own: part };
      const recall = stopped?.piece_recalled_on ? [made("p", "", {}, made("b", "", {}, `${words.verdict.no}. ${filled(words.steps.piece_recalled.failed, stopped, words)}`))] : [];
      return [...recall, made("p", "", {}, made("b", "", {}, filled(data.words.is_of_other, facts, words))), made("p", "", {}, made("a", "button", { href: to }, filled(data.words.open_other, facts, words)))];
    }

    /** Said as soon as the position is chosen, and until it is said what came off. */
    function tellSits() {
      const now = typed();
      showSits(now.removed.trim() ? [] : sitsNow(now)?.here || []);
    }

    /** Told at the field as well, as soon as it is known.
     * @param {string} other the number of that part; "" for none */
    function markOther(other) {
      const isWrong = Boolean(labels.wrong("batch"));
      if (!isWrong && (other || marked)) fields.batch.fault(other ? filled(data.words.wrong.of_other, { number: other }, rules()) : "");
      marked = isWrong ? "" : other;
    }

    async function look() {
      const now = typed();
      if (!now.batch) {
        stands.replaceChildren();
        return;
      }
      const { about, stands: found } = await aboutFitted(part, siteOf(now), now.vehicle, now.batch);
      markOther(about.other);
      if (about.other) {
        stands.replaceChildren(...ofOther(about, now.vehicle));
        return;
      }
      if (!siteOf(now)) {
        stands.replaceChildren();
        return;
      }
      if (found?.verdict === "fit") stands.replaceChildren();
      else stands.replaceChildren(made("p", "", {}, made("b", "", {}, found ? filled(data.words.stands, { verdict: found.word, reason: found.reason }, rules()) : data.words.stands_unknown)), made("p", "", {}, data.words.stands_says));
    }

    /** @param {Record<string, string>} wrong @param {TypedFitted} now @param {BatchFound} about */
    function mark(wrong, now, about) {
      const most = siteOf(now)?.most || 0;
      const sits = (about.sits?.here || []).join(", ");
      const facts = { most: String(most || ""), number: about.other, day: about.released, batch: sits, off: now.removed_batch, sits };
      const say = (/** @type {typeof names[number]} */ name) => {
        if (wrong[name].startsWith("label_")) return labels.says(name === "batch" ? "batch" : "removed_batch");
        const key = wrong[name] === "more" ? "count" : wrong[name];
        return filled(data.words.wrong[key === "count" && most < 2 ? ["count_any", "count_one"][most] : key], facts, rules());
      };
      fields.as_found.offer(Object.values(wrong).some(spares.request.mayBeSo));
      for (const name of names) fields[name].fault(wrong[name] ? say(name) : "");
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
      const { about: found, stands: verdict } = await aboutFitted(part, siteOf(now), now.vehicle, now.batch);
      const about = { ...found, sits: sitsNow(now), label: labels.wrong("batch"), removed_label: labels.wrong("removed_batch") };
      if (!mark(spares.request.fittedProblems(now, data, part, today(), about), now, about)) return;
      const kept = fittedList.read();
      if (kept.rows.length >= data.most_rows) {
        told.textContent = filled(data.words.wrong.full, { n: String(kept.rows.length) }, rules());
        return;
      }
      const isKept = fittedList.keep({ ...kept, rows: [...kept.rows, spares.request.fittedRow(isAgainst(now, found, verdict) ? { ...now, as_found: "yes" } : now, data, part, fittedList.newRow())] });
      told.textContent = isKept ? "" : data.words.unkept;
      fields.by.remember(now.by);
      written.clear();
      for (const name of /** @type {const} */ (["position", "count", "removed", "removed_batch", "why", "as_found"])) fields[name].set("");
      propose();
      showList(list, whole);
      list.querySelector("h2")?.scrollIntoView({ block: "start" });
    }

    fields.why.offer(data.whys.map((why) => ({ id: why, name: data.words.why[why] })));
    fields.vehicle.set(spares.screen.vehicle()?.number || "");
    fields.batch.set(spares.labels.pieceAsked(asked(), data.parts[part].batches.map(([name]) => name)) || "");
    fields.day.set(today());
    offerSites();
    const form = made("form", "request__form", { novalidate: "" }, made("h2", "", { tabindex: "-1" }, filled(data.words.of_part, { number: part, name: data.parts[part].name }, rules())),
      ...names.map((name) => fields[name].element), stands, made("button", "button button--main", { type: "submit" }, data.words.add), told);
    const later = () => { clearTimeout(looking); looking = setTimeout(look, LOOK_AFTER_MS); };
    const changed = () => { propose(); tellSits(); later(); };
    fields.vehicle.element.addEventListener("input", offerSites);
    fields.site.element.addEventListener("change", offerPositions);
    for (const name of /** @type {const} */ (["count", "removed"])) fields[name].element.addEventListener("input", () => written.add(name));
    form.addEventListener("input", changed);
    form.addEventListener("change", changed);
    form.addEventListener("submit", (/** @type {Event} */ event) => { event.preventDefault(); add(); });
    document.addEventListener("spares:copy", later);
    document.addEventListener("spares:vehicle", () => {
      const carried = spares.screen.vehicle();
      if (!carried) return;
      fields.vehicle.set(carried.number);
      offerSites();
      changed();
    });
    labels.take("batch");
    changed();
    return form;
  }

  function start() {
    const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-fitted-form]"));
    if (!place || !data) return;
    const part = spares.labels.askedAs(asked(), "part");
    const list = made("section", "fitted__list", {});
    const isKnown = Object.prototype.hasOwnProperty.call(data.parts, part);
    place.replaceChildren(isKnown ? formOf(part, list, place) : made("p", "", {}, data.words.no_part), list);
    showList(list, place);
  }

  start();
  window.addEventListener("hashchange", start);
})();
