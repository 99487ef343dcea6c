// Which one there? The names that the lines before use are pressed; any other may be typed, and is told as new.
(function () {
  "use strict";

  const { made, pressable } = spares.screen;
  const MANY = 12;
  /** As the records compare two positions.
   * @param {string} text */
  const alike = (text) => text.normalize("NFC").toLowerCase().replace(/\s+/g, " ").trim();
  /** "window 3 left" → "window 3": where there are many, this is pressed first.
   * @param {string} name */
  const headOf = (name) => (/^[^0-9]*[0-9]+/.exec(name) || [name])[0];

  /** @param {string} id @param {RequestWords} words @param {Record<"position_new" | "position_other", string>} said @returns {PositionField} */
  function positionField(id, words, said) {
    const field = spares.screen.fields.textField(id, words, { maxlength: "80" }, true);
    const box = /** @type {HTMLInputElement} */ (field.element.querySelector("input"));
    const hint = /** @type {HTMLElement} */ (field.element.querySelector(".field__hint"));
    const plain = hint.textContent;
    const rows = made("div", "positions", {});
    const told = made("p", "positions__told", { role: "status" });
    hint.before(rows);
    box.after(told);
    /** @type {string[]} */
    let names = [];
    let head = "";

    const known = () => names.find((name) => alike(name) === alike(box.value)) || "";

    /** @param {string} text @param {boolean} isPressed @param {() => void} pressed */
    function button(text, isPressed, pressed) {
      const one = pressable(text, "positions__one", pressed);
      one.setAttribute("aria-pressed", String(isPressed));
      return one;
    }

    /** One that leads to several, of which none is chosen by it.
     * @param {string} text @param {boolean} isOpen @param {string} chosen */
    function headButton(text, isOpen, chosen) {
      const one = button(text, isOpen && chosen !== "", () => {
        head = text;
        if (chosen && headOf(chosen) !== text) take(chosen);
        else show();
      });
      one.setAttribute("aria-expanded", String(isOpen));
      return one;
    }

    /** @param {string} name */
    function take(name) {
      box.value = known() === name ? "" : name;
      box.dispatchEvent(new Event("input", { bubbles: true }));
    }

    function show() {
      const heads = [...new Set(names.map(headOf))];
      const isTwofold = names.length > MANY && heads.length < names.length;
      const chosen = known();
      const at = chosen ? headOf(chosen) : head;
      const first = isTwofold ? heads.map((each) => headButton(each, each === at, chosen)) : names.map((name) => button(name, name === chosen, () => take(name)));
      const second = isTwofold && at ? names.filter((name) => headOf(name) === at).map((name) => button(name, name === chosen, () => take(name))) : [];
      const focused = rows.contains(document.activeElement) ? document.activeElement?.textContent : null;
      rows.replaceChildren(...(first.length ? [made("div", "positions__row", {}, ...first)] : []), ...(second.length ? [made("div", "positions__row positions__row--second", {}, ...second)] : []));
      [...first, ...second].find((one) => one.textContent === focused)?.focus();
      hint.textContent = names.length ? said.position_other : plain;
      told.textContent = names.length && box.value.trim() && !chosen ? said.position_new : "";
    }

    box.addEventListener("input", show);
    return {
      ...field,
      get: () => known() || box.value,
      set: (value) => { box.value = value; head = ""; show(); },
      offer: (listed) => { if (listed.join("\n") !== names.join("\n")) { names = listed; head = ""; } show(); },
    };
  }

  spares.screen = { ...spares.screen, positionField };
})();
