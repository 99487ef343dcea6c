// Who are you? The roles that do such a thing come as large buttons, the others behind one; the last one is remembered on this tablet.
(function () {
  "use strict";

  const KEY = "spares.roles";
  const OTHER = "another role"; // no role's id has a blank
  const { keepOf, keptOf, made } = spares.screen;

  /** Chosen at first is who was it last on this tablet, and the field says so.
   * @param {string} id @param {RequestWords} words with `last_role` and `other_role` @param {ChosenRole[]} roles @param {string} form
   * under whose name it is remembered @returns {RoleField} */
  function roleField(id, words, roles, form) {
    const kept = keptOf(KEY, form);
    const last = roles.find((role) => role.id === kept?.id)?.id || "";
    const shown = roles.filter((role) => role.first || role.id === last);
    const others = roles.filter((role) => !shown.includes(role));
    const choice = spares.screen.fields.choiceField(id, words, false);
    const more = made("select", "field__box role__other", { "aria-label": words.other_role }, ...[{ id: "", name: words.choose_role }, ...others].map((role) => made("option", "", { value: role.id }, role.name)));
    const says = made("p", "field__hint", { role: "status" });
    choice.offer([...shown, ...(others.length ? [{ id: OTHER, name: words.other_role }] : [])]);
    choice.element.querySelector(".field__choices")?.after(more, says);

    function show() {
      more.hidden = choice.get() !== OTHER;
      const isLast = last !== "" && choice.get() === last;
      says.textContent = isLast ? words.last_role : "";
      says.hidden = !isLast;
    }

    /** @param {string} role */
    function set(role) {
      const isOther = others.some((each) => each.id === role);
      choice.set(isOther ? OTHER : role);
      more.value = isOther ? role : "";
      show();
    }

    choice.element.addEventListener("change", show);
    set(last);
    return {
      element: choice.element, set, last, fault: choice.fault, focus: choice.focus,
      get: () => (choice.get() === OTHER ? more.value : choice.get()),
      remember: (role) => { keepOf(KEY, form, { id: role }); },
    };
  }

  spares.screen = { ...spares.screen, roleField };
})();
