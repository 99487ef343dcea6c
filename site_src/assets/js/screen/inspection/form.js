// The inspection sheet of a batch, filled beside the gauge; kept on this tablet until it is handed over.
(function () {
  "use strict";

  const KEY = "spares.inspections";
  const data = globalThis.sparesInspection;
  const { counted, filled, localDay } = spares.judge;
  const { checkFields, givenOver, keepOf, keptOf, made, pressable, roleField } = spares.screen;
  const { textField } = spares.screen.fields;
  const TEXTS = /** @type {const} */ (["pieces", "by", "day", "note"]);
  const OF_CHECK = /** @type {const} */ (["kind", "passed", "failed", "gauge", "until"]);
  const today = () => localDay(new Date());
  const rules = () => globalThis.sparesRules.words;

  /** What a store holds under the batch, where it is a sheet of these dimensions.
   * @param {unknown} kept @param {InspectedBatch} of @returns {TypedInspection | null} */
  function sheetIn(kept, of) {
    const sheet = /** @type {TypedInspection | null} */ (kept);
    const isText = (/** @type {unknown} */ value) => typeof value === "string";
    if (!sheet || !TEXTS.every((name) => isText(sheet[name])) || !Array.isArray(sheet.checks) || sheet.checks.length !== of.checks.length) return null;
    return sheet.checks.every((each) => each && OF_CHECK.every((name) => isText(each[name])) && Array.isArray(each.values) && each.values.every(isText)) ? sheet : null;
  }

  /** @param {InspectedBatch} of */
  function keptSheet(of) {
    const kept = keptOf(KEY, of.batch) || {};
    const handed = kept.handed && typeof kept.handed.day === "string" ? sheetIn(kept.handed.typed, of) : null;
    return { typed: sheetIn(kept.typed, of), handed: handed ? { day: String(kept.handed.day), typed: handed } : null };
  }

  /** @param {InspectedBatch} of */
  function fieldsOf(of) {
    const words = /** @type {RequestWords} */ (/** @type {unknown} */ ({ ...data.words, hint: { ...data.words.hint, pieces: filled(data.words.pieces_of, { n: String(of.count) }, rules()) } }));
    return {
      pieces: textField("pieces", words, { inputmode: "numeric", maxlength: "4" }),
      by: roleField("by", words, data.roles, "inspection"),
      day: textField("day", words, { type: "date", max: today(), min: of.from }),
      note: textField("note", words, { maxlength: "200" }, true),
    };
  }

  /** @param {HTMLElement} whole @param {InspectedBatch} of */
  function formOf(whole, of) {
    const fields = fieldsOf(of);
    const checks = of.checks.map((check, at) => checkFields(at, check, data.words));
    /** Whose gauge is told to have lapsed.
     * @type {Set<number>} */
    const lapsed = new Set();
    const told = made("p", "request__told", { role: "status" });
    const began = made("div", "inspected__handed", {});
    const typed = () => ({ pieces: fields.pieces.get(), by: fields.by.get(), day: fields.day.get(), note: fields.note.get(), checks: checks.map((each) => each.get()) });

    function keep() {
      const isKept = keepOf(KEY, of.batch, { ...keptSheet(of), typed: typed() });
      told.textContent = isKept ? "" : data.words.unkept;
    }

    function spread() {
      const n = Number(fields.pieces.get().trim());
      if (Number.isInteger(n) && n >= 1 && n <= of.count) checks.forEach((each) => each.pieces(n));
    }

    /** @param {TypedInspection | null} sheet null: an empty one */
    function fill(sheet) {
      const now = sheet || { pieces: String(of.left || of.count), by: fields.by.last, day: today(), note: "", checks: of.checks.map(() => ({ kind: "mm", values: Array(of.count).fill(""), passed: "", failed: "", gauge: "", until: "" })) };
      for (const name of TEXTS) fields[name].set(now[name]);
      spread();
      checks.forEach((each, at) => each.set(now.checks[at]));
      clearFaults();
    }

    function clearFaults() {
      for (const name of TEXTS) fields[name].fault("");
      checks.forEach((each) => each.fault("", ""));
      lapsed.clear();
      warnOfGauges();
    }

    /** @param {Record<string, string>} wrong */
    function mark(wrong) {
      clearFaults();
      const facts = { n: fields.pieces.get(), most: String(of.count), day: fields.day.get(), from: of.from };
      const places = Object.keys(wrong).map((key) => {
        const [at, ...rest] = key.split(" ");
        const field = fields[/** @type {keyof typeof fields} */ (key)];
        const said = filled(data.words.wrong[wrong[key]], facts, rules());
        if (field) field.fault(said);
        else checks[Number(at)].fault(rest.join(" "), said);
        return () => (field ? field.focus() : checks[Number(at)].focus(rest.join(" ")));
      });
      told.textContent = places.length ? counted(data.words.missing, places.length, {}, rules()) : "";
      places[0]?.();
      return !places.length;
    }

    function handOver() {
      const now = typed();
      if (!mark(spares.request.inspectionProblems(now, of, data, today()))) return;
      const text = spares.request.inspectionText(now, of, data);
      fields.by.remember(now.by);
      givenOver(whole, { text, short: text, file: `inspection-${of.batch}-${now.day}.yml`, notes: openWords(now) }, data, showHanded, () => {
        keepOf(KEY, of.batch, { typed: null, handed: { day: today(), typed: now } });
        fill(null);
      });
    }

    /** What the sheet does not tell, so that nobody takes it for whole.
     * @param {TypedInspection} now */
    function openWords(now) {
      const { checks: unmeasured, pieces } = spares.request.leftOpen(now, of);
      const some = pieces.map(({ check, left }) => filled(data.words.open_pieces, { check, pieces: left.join(", ") }, rules()));
      return [...(unmeasured.length ? [filled(data.words.open_checks, { checks: unmeasured.join("; ") }, rules())] : []), ...some];
    }

    function showHanded() {
      const { handed } = keptSheet(of);
      const back = handed ? pressable(data.words.back, "inspected__back", () => { fill(handed.typed); keep(); }) : "";
      began.replaceChildren(...(handed ? [made("p", "", {}, filled(data.words.handed, { day: handed.day }, rules()), " ", back)] : []));
    }

    const form = made("form", "request__form", { novalidate: "" }, began, fields.pieces.element, ...checks.map((each) => each.element),
      fields.by.element, fields.day.element, fields.note.element, made("button", "button button--main", { type: "submit" }, data.words.make), told);
    fields.pieces.element.addEventListener("input", spread);
    checks.forEach((each, at) => each.element.addEventListener("change", () => {
      of.checks.forEach((other, next) => { if (next > at && other.with === of.checks[at].with) checks[next].propose(each.get()); });
    }));
    /** At once, not only when the sheet is handed over: the next piece would be measured in vain. */
    function warnOfGauges() {
      const day = fields.day.get();
      checks.forEach((each, at) => {
        const is = spares.request.hasLapsed(each.get().until, day);
        if (is !== lapsed.has(at)) each.fault("until", is ? filled(data.words.wrong.lapsed, { day }, rules()) : "");
        if (is) lapsed.add(at);
        else lapsed.delete(at);
      });
    }

    const changed = () => { warnOfGauges(); checks.forEach((each) => each.told()); keep(); };
    form.addEventListener("input", changed);
    form.addEventListener("change", changed);
    form.addEventListener("submit", (/** @type {Event} */ event) => { event.preventDefault(); handOver(); });
    fill(keptSheet(of).typed);
    showHanded();
    return form;
  }

  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-inspection]"));
  if (place && data) place.replaceChildren(formOf(place, JSON.parse(place.dataset.inspection || "{}")));
})();
