// What may have been meant: a line of buttons below a field. Each is taken by a hand alone, never by itself.
(function () {
  "use strict";

  const { made, pressable } = spares.screen;

  /** @param {FormField} field @param {string} said @returns {(names: string[]) => void} shows these, or none */
  function meantBelow(field, said) {
    const line = made("p", "meant", { role: "status" });
    field.element.append(line);
    return (names) => {
      if (line.dataset.names === names.join(" ")) return;
      line.dataset.names = names.join(" ");
      line.replaceChildren(...(names.length ? [`${said} `, ...names.map((name) => pressable(name, "meant__one", () => {
        field.set(name);
        field.focus();
        field.element.dispatchEvent(new Event("input", { bubbles: true }));
        field.element.dispatchEvent(new Event("change", { bubbles: true }));
      }))] : []));
    };
  }

  spares.screen = { ...spares.screen, meantBelow };
})();
