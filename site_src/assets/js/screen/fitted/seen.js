// What contradicts the records: at a position that carries one something sits already, or it is so all the same, as somebody saw on the vehicle.
(function () {
  "use strict";

  const { made, pressable } = spares.screen;

  /** A box to tick, which is only there where something contradicts; its value is "yes" or "".
   * @param {string} id @param {RequestWords} words @returns {SeenField} */
  function seenField(id, words) {
    const box = made("input", "", { type: "checkbox", autocomplete: "off", "aria-describedby": `request-${id}-hint` });
    const element = made("div", "field", { "data-field": id }, made("label", "tick", {}, box, made("span", "", {}, words.field[id])), made("p", "field__hint", { id: `request-${id}-hint` }, words.hint[id]));
    const offer = (/** @type {boolean} */ is) => { element.hidden = !is && !box.checked; };
    offer(false);
    return {
      element,
      offer,
      get: () => (box.checked ? "yes" : ""),
      set: (value) => { box.checked = value === "yes"; offer(false); },
      fault: () => {},
      focus: () => box.focus(),
    };
  }

  /** Below the position: what sits there by the records, and a button that says that it came off.
   * @param {FormField} field @param {FittedWords} words @param {(batch: string) => void} taken @returns {(batches: string[]) => void} */
  function sitsBelow(field, words, taken) {
    const line = made("p", "meant", { role: "status" });
    field.element.append(line);
    return (batches) => {
      if (line.dataset.batches === batches.join(" ")) return;
      line.dataset.batches = batches.join(" ");
      const said = (/** @type {string} */ text, /** @type {string} */ batch) => spares.judge.filled(text, { batch }, globalThis.sparesRules.words);
      line.replaceChildren(...(batches.length ? [`${said(words.sits, batches.join(", "))} `, ...new Set(batches)].map((each, at) => (at ? pressable(said(words.sits_off, each), "meant__one", () => taken(each)) : each)) : []));
    };
  }

  spares.screen = { ...spares.screen, seenField, sitsBelow };
})();
