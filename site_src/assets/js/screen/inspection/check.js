// One dimension of an inspection sheet: a field for each piece, told at once whether it is in; or what a gauge without figures found.
(function () {
  "use strict";

  const { made } = spares.screen;
  const { choiceField, textField } = spares.screen.fields;
  const { filled } = spares.judge;
  const rules = () => globalThis.sparesRules.words;

  /** A field for one piece.
   * @param {string} id @param {InspectedCheck} check @param {number} nth from 0 @param {InspectionWords} words */
  function pieceField(id, check, nth, words) {
    const stands = made("span", "inspected__stands", { id: `${id}-stands`, role: "status" });
    const box = made("input", "field__box", { id, type: "text", inputmode: "decimal", autocomplete: "off", maxlength: "12", "aria-describedby": stands.id });
    const element = made("label", "side", { for: id }, made("span", "side__name", {}, filled(words.piece, { n: String(nth + 1) }, rules())), made("span", "inspected__box", {}, box, made("span", "side__unit", {}, "mm")), stands);
    let fault = "";
    function told() {
      const isOut = spares.request.standsOut(check, box.value);
      const is = fault || (box.value.trim() && isOut === null ? words.wrong.number : isOut === null ? "" : isOut ? words.out : words.in);
      if (stands.textContent !== is) stands.textContent = is;
      element.classList.toggle("side--out", Boolean(fault) || isOut === true || (isOut === null && Boolean(box.value.trim())));
      box.setAttribute("aria-invalid", String(Boolean(fault)));
    }
    box.addEventListener("input", () => { fault = ""; told(); });
    return { element, box, told, fault: (/** @type {string} */ text) => { fault = text; told(); } };
  }

  /** @param {number} at @param {InspectionWords} words */
  function notesOf(at, words) {
    const own = (/** @type {string} */ name) => `check-${at}-${name}`;
    const named = (/** @type {string} */ name) => /** @type {RequestWords} */ (/** @type {unknown} */ ({ ...words, field: { [own(name)]: words.field[name] }, hint: {} }));
    const count = { inputmode: "numeric", maxlength: "4" };
    return {
      kind: choiceField(own("kind"), named("kind"), false),
      passed: textField(own("passed"), named("passed"), count),
      failed: textField(own("failed"), named("failed"), count),
      gauge: textField(own("gauge"), named("gauge"), { maxlength: "200" }),
      until: textField(own("until"), named("until"), { type: "date" }),
    };
  }

  /** @param {number} at its place on the sheet, from 0 @param {InspectedCheck} check @param {InspectionWords} words @returns {CheckFields} */
  function checkFields(at, check, words) {
    const fields = notesOf(at, words);
    fields.kind.offer(["mm", "gauge"].map((kind) => ({ id: kind, name: words.kind[kind] })));
    const row = made("div", "field__sides", {});
    const gauged = made("div", "inspected__gauged", {}, fields.passed.element, fields.failed.element);
    const says = made("p", "inspected__says", { role: "status" });
    const legend = made("legend", "field__label", {}, check.name, made("span", "inspected__limits", {}, filled(words.of_check, { limits: check.limits, with: check.with }, rules())));
    const element = made("fieldset", "inspected", {}, legend, fields.kind.element, row, gauged, says, made("div", "inspected__with", {}, fields.gauge.element, fields.until.element));
    /** @type {ReturnType<typeof pieceField>[]} */
    let boxes = [];
    let shown = 0;
    /** What was proposed here, and nobody has changed. */
    const proposed = { gauge: "", until: "" };

    function told() {
      const isGauge = fields.kind.get() === "gauge";
      row.hidden = isGauge;
      gauged.hidden = !isGauge;
      boxes.forEach((each) => each.told());
      const out = boxes.slice(0, shown).flatMap((each, nth) => (spares.request.standsOut(check, each.box.value) ? [nth + 1] : []));
      const text = isGauge ? (Number(fields.failed.get()) > 0 ? words.failed_says : "") : out.length ? filled(words.out_says, { pieces: out.join(", ") }, rules()) : "";
      if (says.textContent !== text) says.textContent = text;
    }

    function pieces(/** @type {number} */ n) {
      while (boxes.length < n) boxes.push(pieceField(`inspected-${at}-${boxes.length}`, check, boxes.length, words));
      shown = n;
      row.replaceChildren(...boxes.slice(0, n).map((each) => each.element));
      told();
    }

    /** @param {TypedCheck} from */
    function propose(from) {
      for (const name of /** @type {const} */ (["gauge", "until"])) {
        if (fields[name].get() !== proposed[name]) continue;
        proposed[name] = from[name];
        fields[name].set(from[name]);
      }
    }

    const nth = (/** @type {string} */ key) => (key.startsWith("value ") ? boxes[Number(key.slice(6))] : null);
    const named = (/** @type {string} */ key) => fields[/** @type {keyof typeof fields} */ (key)];
    fields.kind.set("mm");
    return {
      element, pieces, propose, told,
      get: () => ({ kind: fields.kind.get(), values: boxes.map((each) => each.box.value), passed: fields.passed.get(), failed: fields.failed.get(), gauge: fields.gauge.get(), until: fields.until.get() }),
      set: (typed) => {
        pieces(Math.max(shown, 1));
        typed.values.forEach((value, each) => { if (boxes[each]) boxes[each].box.value = value; });
        for (const name of /** @type {const} */ (["kind", "passed", "failed", "gauge", "until"])) fields[name].set(typed[name]);
        told();
      },
      fault: (key, text) => {
        if (key) (nth(key) || named(key)).fault(text);
        else [...boxes, fields.passed, fields.failed, fields.gauge, fields.until].forEach((each) => each.fault(""));
      },
      focus: (key) => { const box = nth(key); if (box) box.box.focus(); else named(key).focus(); },
    };
  }

  spares.screen = { ...spares.screen, checkFields };
})();
