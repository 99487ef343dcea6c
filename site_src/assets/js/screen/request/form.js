// Asking for a new design: first what is near it, then the rest, then the file. Or one more voice for what is asked for already.
(function () {
  "use strict";

  const data = globalThis.sparesRequest;
  const LOOK_AFTER_MS = 200;
  const KEEP_AFTER_MS = 300;
  const NO_PLACE = "-";
  const LONGEST_NAME = 80;
  const REST = ["what", "stops", "yearly", "vehicles", "photo", "by"];
  const { today } = spares.screen.vain;
  const { base, copyFacts, endedBefore, heardOf, made, standingFor } = spares.screen;
  const { textField, areaField, selectField, choiceField, sizesField, photoField } = spares.screen.fields;

  /** What the address asks for: after "?" over http, after "#" from disk.
   * @returns {Record<string, string>} */
  function fromAddress() {
    return { ...Object.fromEntries(new URLSearchParams(location.search)), ...Object.fromEntries(new URLSearchParams(location.hash.slice(1))) };
  }

  /** @param {string} word @param {string} name @param {() => void} pressed */
  function button(word, name, pressed) {
    const one = made("button", `button ${name}`, { type: "button" }, word);
    one.addEventListener("click", pressed);
    return one;
  }

  /** @param {Record<string, AnyField>} fields @returns {Draft} */
  const valuesOf = (fields) => Object.fromEntries(Object.entries(fields).map(([id, field]) => [id, field.get()]));

  /** @param {Draft} values as typed; those that this form does not ask for are empty @returns {Typed} */
  function typedOf(values) {
    const place = values.place === NO_PLACE ? "" : values.place;
    const all = { name: "", vehicles: "", sizes: [], numbers: "", what: "", stops: "", yearly: "", note: "", ...values, place };
    return /** @type {Typed} */ (/** @type {unknown} */ (all));
  }

  /** Mark what is wrong, go to the first of it and say how many there are; true where nothing is wrong.
   * @param {Record<string, AnyField>} fields @param {Wrong} wrong @param {RequestWords} words @param {HTMLElement} told */
  function isRight(fields, wrong, words, told) {
    for (const [id, field] of Object.entries(fields)) field.fault(wrong[id] ? words.wrong[wrong[id]] : "");
    const first = Object.keys(fields).find((id) => wrong[id]);
    const count = Object.keys(wrong).length;
    told.textContent = count ? spares.judge.counted(words.wrong.count, count, {}, globalThis.sparesRules.words) : "";
    if (first) {
      fields[first].focus();
      fields[first].element.scrollIntoView({ block: "start" });
    }
    return !first;
  }

  /** The page is headed as what it is: a voice asks for no new design.
   * @param {string} title */
  function head(title) {
    const heading = document.querySelector("h1");
    if (heading) heading.textContent = title;
    document.title = [title, ...document.title.split(" – ").slice(1)].join(" – ");
  }

  /** @param {HTMLElement} place @param {HTMLElement} before @param {HandedOver} request @param {HandedOn} handed
   * @param {RequestWords} words @param {VainAlong} along */
  function handOver(place, before, request, handed, words, along) {
    const { contact } = data;
    const change = () => { place.replaceChildren(before); before.querySelector("h2")?.focus(); };
    const finish = () => { if (!handed.id) spares.screen.draft.forget(); spares.screen.rememberHanded(handed); along.over(); location.href = new URL("requests.html", base).href; };
    const last = spares.screen.handover(request, words, contact, change, finish);
    place.replaceChildren(last);
    window.scrollTo(0, 0);
    last.querySelector("h2")?.focus();
  }

  /** The file with the queries that found nothing; a code has no room for them.
   * @param {string} text @param {string} short @param {string} name @param {VainAlong} along @returns {HandedOver} */
  function withQueries(text, short, name, along) {
    const told = along.told();
    const more = spares.finder.vain.lookedFor(told, today());
    return { text: text + more, short, file: spares.request.fileName(name, today()), hasPhoto: text !== short, along: told.length, gone: along.gone };
  }

  /** @param {HTMLElement} place @param {string} id */
  function voice(place, id) {
    const { words } = data;
    const name = Object.prototype.hasOwnProperty.call(data.requests, id) ? data.requests[id] : null;
    if (!name) {
      const link = made("a", "button", { href: new URL("requests.html", base).href }, globalThis.sparesRules.words.finder.requests);
      place.replaceChildren(made("p", "", {}, spares.judge.filled(words.voice.gone, { id }, globalThis.sparesRules.words)), link);
      return;
    }
    const fields = {
      yearly: textField("yearly", words, { inputmode: "decimal", maxlength: "8" }),
      by: selectField("by", words, data.roles, words.choose_role),
      note: textField("note", words, { maxlength: "200" }, true),
    };
    const told = made("p", "request__told", { role: "status" });
    const along = spares.screen.vain.along();
    const form = made("form", "request__form", { novalidate: "" },
      made("h2", "", { tabindex: "-1" }, spares.judge.filled(words.voice.heading, { name }, globalThis.sparesRules.words)),
      made("p", "", {}, spares.judge.filled(words.voice.says, { id }, globalThis.sparesRules.words)),
      ...Object.values(fields).map((field) => field.element),
      made("button", "button button--main", { type: "submit" }, words.voice.make), told);
    form.addEventListener("submit", (/** @type {Event} */ event) => {
      event.preventDefault();
      const typed = typedOf(valuesOf(fields));
      if (!isRight(fields, spares.request.voiceProblems(typed, data.roles.map((role) => role.id)), words, told)) return;
      const text = spares.request.voiceText(id, typed, today());
      const handed = { name, id, day: today(), by: typed.by };
      handOver(place, form, withQueries(text, text, id, along), handed, { ...words, done: { ...words.done, ...words.voice.done } }, along);
    });
    place.replaceChildren(form);
  }

  /** @param {HTMLElement} place @param {Record<string, string>} asked from the address */
  function design(place, asked) {
    const { words } = data;
    const rulesWords = globalThis.sparesRules.words;
    const fields = {
      name: textField("name", words, { maxlength: String(LONGEST_NAME), autocapitalize: "sentences" }),
      fleet: choiceField("fleet", words, false),
      place: choiceField("place", words, true),
      sizes: sizesField("sizes", words),
      numbers: textField("numbers", words, { maxlength: "400", autocapitalize: "characters", spellcheck: "false" }, true),
      what: areaField("what", words, "4000"),
      stops: textField("stops", words, { maxlength: "200" }),
      yearly: textField("yearly", words, { inputmode: "decimal", maxlength: "8" }),
      vehicles: textField("vehicles", words, { maxlength: "200" }, true),
      photo: photoField("photo", words, () => changed()),
      by: selectField("by", words, data.roles, words.choose_role),
    };
    const of = (/** @type {string} */ id) => /** @type {Record<string, AnyField>} */ (fields)[id];
    const first = Object.keys(fields).filter((id) => !REST.includes(id));
    const near = made("section", "near", { "aria-labelledby": "near-heading" });
    const list = made("ol", "finder__hits near__hits", { role: "list" });
    const nearTold = made("p", "near__told", { role: "status" }, words.near.wait);
    const go = button(words.near.go, "button--main near__go", () => open(true));
    near.append(made("h2", "", { id: "near-heading" }, words.near.heading), nearTold, list, go);
    const told = made("p", "request__told", { role: "status" });
    const rest = made("section", "rest", {}, made("h2", "", { tabindex: "-1" }, words.rest.heading), ...REST.map((id) => of(id).element),
      made("button", "button button--main", { type: "submit" }, words.rest.make), told);
    const along = spares.screen.vain.along();
    const keptNote = made("p", "request__kept", {}, words.kept);
    const form = made("form", "request__form", { novalidate: "" }, made("p", "request__says", {}, words.says), ...first.map((id) => of(id).element), near, rest, keptNote);
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    let looking;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    let keeping;

    function open(/** @type {boolean} */ byHand) {
      rest.hidden = false;
      go.hidden = true;
      if (!byHand) return;
      rest.querySelector("h2")?.focus({ preventScroll: true });
      rest.scrollIntoView({ block: "start" });
      changed();
    }

    const fleetNow = () => data.fleets.find((fleet) => fleet.id === fields.fleet.get());

    function offerPlaces() {
      const fleet = fleetNow();
      fields.place.element.hidden = !fleet;
      fields.place.offer(fleet ? [...fleet.places, { id: NO_PLACE, name: words.any_place }] : []);
    }

    function wish() {
      const typed = typedOf(valuesOf(fields));
      const sits = fleetNow()?.places.find((each) => each.id === typed.place);
      const sizes = spares.request.sizes(typed).filter(Number.isFinite);
      return { name: typed.name.trim(), fleet: typed.fleet, place: sits ? sits.name : "", sizes, numbers: spares.request.numbers(typed.numbers), words: [], without: [] };
    }

    async function look() {
      const asks = wish();
      const said = Boolean(asks.name || asks.sizes.length || asks.numbers.length);
      try {
        const parts = await spares.screen.catalogue();
        const hits = said ? spares.finder.nearMatches(parts.index, asks) : [];
        list.replaceChildren(...hits.map((hit) => nearElement(parts, hit)));
        nearTold.textContent = hits.length ? spares.judge.counted(words.near.count, hits.length, {}, rulesWords) : said ? words.near.none : words.near.wait;
        go.textContent = hits.length ? words.near.go : words.near.go_none;
      } catch (reason) {
        console.error("spares: nothing near can be looked up.", reason);
        nearTold.textContent = words.near.broken;
      }
      go.hidden = !rest.hidden || !asks.name;
    }

    document.addEventListener("spares:copy", () => { if (list.childElementCount) look(); });

    function nearElement(/** @type {Catalogue} */ parts, /** @type {NearHit} */ hit) {
      const record = parts.data.records[hit.at];
      const stands = spares.judge.standings(
        parts.data, record, spares.judge.localDay(new Date()), globalThis.sparesRules, copyFacts(record.number), endedBefore(record.number));
      const element = spares.screen.hitElement(parts.index, parts.data, hit.ranked, hit, standingFor(parts.data, stands, heardOf(parts, { ...hit.ranked, items: [] }, "")), { words: rulesWords, base });
      if (record.kind === "request") element.append(made("a", "button near__voice", { href: `#${new URLSearchParams({ adds: record.number })}` }, words.near.voice));
      return element;
    }

    function keep() {
      clearTimeout(keeping);
      if (!place.isConnected || !document.contains(form)) return;
      const kept = spares.screen.draft.keep({ ...valuesOf(fields), rest: !rest.hidden, asked: asked.q || "" });
      keptNote.textContent = kept ? words.kept : words.unkept;
    }

    function changed() {
      clearTimeout(looking);
      looking = setTimeout(look, LOOK_AFTER_MS);
      clearTimeout(keeping);
      keeping = setTimeout(keep, KEEP_AFTER_MS);
    }

    function fill(/** @type {Draft} */ values) {
      const { sizes, ...texts } = fields;
      for (const [id, field] of Object.entries(texts)) {
        if (id === "place") offerPlaces();
        const value = values[id];
        field.set(typeof value === "string" ? value : "");
      }
      sizes.set(Array.isArray(values.sizes) ? values.sizes.map(String) : []);
      for (const field of Object.values(fields)) field.fault("");
      rest.hidden = true;
      if (values.rest) open(false);
      look();
    }

    /** A request begins with what was looked for, each thing in its field once the catalogue is there to tell them apart. */
    function begin() {
      const query = asked.q || "";
      const isFleet = (/** @type {string} */ id) => data.fleets.some((each) => each.id === id);
      const wanted = isFleet(asked.fleet) ? asked.fleet : "";
      const carried = spares.screen.vehicle()?.fleets || [];
      const likely = carried.length === 1 && isFleet(carried[0]) ? carried[0] : "";
      fill({ name: query, fleet: wanted || likely });
      if (!query) return;
      spares.screen.catalogue().then((parts) => {
        if (fields.name.get() !== query.slice(0, LONGEST_NAME)) return; // a hand was quicker
        const told = spares.screen.fromQuery(parts, query, wanted);
        fill({ ...told, fleet: isFleet(told.fleet) ? told.fleet : likely });
      }).catch((reason) => console.error("spares: what was looked for stays in the name.", reason));
    }

    fields.fleet.offer(data.fleets.map((fleet) => ({ id: fleet.id, name: fleet.id, more: fleet.name.replace(fleet.id, "").trim() })));
    fields.fleet.element.addEventListener("change", offerPlaces);
    form.addEventListener("input", changed);
    form.addEventListener("change", changed);
    document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && keep());
    window.addEventListener("pagehide", keep);
    form.addEventListener("submit", (/** @type {Event} */ event) => {
      event.preventDefault();
      if (rest.hidden) return;
      const typed = typedOf(valuesOf(fields));
      const wrong = spares.request.problems(typed, data.fleets, data.roles.map((role) => role.id));
      keep();
      if (!isRight(fields, wrong, words, told)) return;
      const [text, short] = [fields.photo.get(), ""].map((photo) => spares.request.text(typed, today(), photo, data.fleets));
      handOver(place, form, withQueries(text, short, typed.name, along), { name: typed.name, id: "", day: today(), by: typed.by }, words, along);
    });

    const draft = spares.screen.draft.read();
    if (draft) fill(draft);
    else begin();
    if (draft && (draft.name || draft.what || draft.photo) && (asked.q || "") !== ((asked.q && draft.asked) || draft.name)) form.prepend(began(draft, () => { spares.screen.draft.forget(); begin(); }));
    place.replaceChildren(form);
  }

  /** @param {Draft} draft @param {() => void} anew */
  function began(draft, anew) {
    const { words } = data;
    const name = String(draft.name || words.no_name);
    const box = made("div", "request__began", { role: "status" }, made("p", "", {}, spares.judge.filled(words.began, { name }, globalThis.sparesRules.words)));
    box.append(button(words.go_on, "", () => box.remove()), button(words.anew, "", () => { anew(); box.remove(); }));
    return box;
  }

  function start() {
    const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-request]"));
    if (!place || !data) return;
    const asked = fromAddress();
    head(asked.adds ? data.words.voice.title : data.words.title);
    if (asked.adds) voice(place, asked.adds);
    else design(place, asked);
  }

  start();
  window.addEventListener("hashchange", start);
})();
