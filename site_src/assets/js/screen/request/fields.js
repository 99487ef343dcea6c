// How does one answer? Labelled fields for gloved hands; each shows its own mistake. Elements are made from text only.
(function () {
  "use strict";

  const { made } = spares.screen;

  /** @param {string} id @param {RequestWords} words @param {boolean} optional @returns {(string | Node)[]} */
  function title(id, words, optional) {
    return optional ? [words.field[id], made("span", "field__optional", {}, ` ${words.optional}`)] : [words.field[id]];
  }

  /** A field around one box.
   * @param {string} id @param {RequestWords} words @param {HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement} box @param {boolean} optional
   * @param {...Node} more @returns {FormField} */
  function labelled(id, words, box, optional, ...more) {
    const { hint, fault, describe } = notes(id, words);
    box.id = `request-${id}`;
    describe(box);
    const label = made("label", "field__label", { for: box.id }, ...title(id, words, optional));
    const element = made("div", "field", { "data-field": id }, label, ...(hint ? [hint] : []), box, fault, ...more);
    return { element, get: () => box.value, set: (value) => { box.value = value || ""; }, fault: shown(element, fault, [box]), focus: () => box.focus() };
  }

  /** @param {string} id @param {RequestWords} words */
  function notes(id, words) {
    const text = words.hint[id];
    const hint = text ? made("p", "field__hint", { id: `request-${id}-hint` }, text) : null;
    const fault = made("p", "field__fault", { id: `request-${id}-fault` });
    fault.hidden = true;
    const describe = (/** @type {HTMLElement} */ box) => box.setAttribute("aria-describedby", `${hint ? `${hint.id} ` : ""}${fault.id}`);
    return { hint, fault, describe };
  }

  /** @param {HTMLElement} element @param {HTMLElement} fault @param {HTMLElement[]} boxes */
  function shown(element, fault, boxes) {
    return (/** @type {string} */ text) => {
      fault.textContent = text;
      fault.hidden = !text;
      element.classList.toggle("field--wrong", Boolean(text));
      for (const box of boxes) box.setAttribute("aria-invalid", String(Boolean(text)));
    };
  }

  /** @param {string} id @param {RequestWords} words @param {Record<string, string>} attributes @param {boolean} [optional] */
  function textField(id, words, attributes, optional = false) {
    return labelled(id, words, made("input", "field__box", { type: "text", autocomplete: "off", ...attributes }), optional);
  }

  /** @param {string} id @param {RequestWords} words @param {string} longest */
  function areaField(id, words, longest) {
    return labelled(id, words, made("textarea", "field__box field__box--tall", { rows: "3", maxlength: longest }), false);
  }

  /** @param {string} id @param {RequestWords} words @param {Offered[]} choices @param {string} first */
  function selectField(id, words, choices, first) {
    const options = [made("option", "", { value: "" }, first), ...choices.map((each) => made("option", "", { value: each.id }, each.name))];
    return labelled(id, words, made("select", "field__box", {}, ...options), false);
  }

  /** One of few, each as large as a hand needs it.
   * @param {string} id @param {RequestWords} words @param {boolean} optional
   * @returns {ChoiceField} */
  function choiceField(id, words, optional) {
    const { fault, describe } = notes(id, words);
    const row = made("div", "field__choices", {});
    const element = made("fieldset", "field", { "data-field": id }, made("legend", "field__label", {}, ...title(id, words, optional)), row, fault);
    describe(element);
    const boxes = () => /** @type {HTMLInputElement[]} */ ([...row.querySelectorAll("input")]);
    const get = () => boxes().find((box) => box.checked)?.value || "";
    const set = (/** @type {string} */ value) => { for (const box of boxes()) box.checked = box.value === value; };
    const offer = (/** @type {Offered[]} */ choices) => {
      const before = get();
      row.replaceChildren(...choices.map((each) => made("label", "choice", {},
        made("input", "choice__box", { type: "radio", name: `request-${id}`, value: each.id }),
        made("span", "choice__name", {}, each.name), ...(each.more ? [made("span", "choice__more", {}, each.more)] : []))));
      set(before);
    };
    return { element, get, set, offer, fault: shown(element, fault, [element]), focus: () => boxes()[0]?.focus() };
  }

  /** The three sides of a part.
   * @param {string} id @param {RequestWords} words @returns {FormField<string[]>} */
  function sizesField(id, words) {
    const { hint, fault, describe } = notes(id, words);
    const boxes = words.side.map((_side, at) => {
      const box = made("input", "field__box", { type: "text", inputmode: "decimal", autocomplete: "off", maxlength: "8", id: `request-${id}-${at}` });
      describe(box);
      return box;
    });
    const sides = boxes.map((box, at) => made("label", "side", { for: box.id }, made("span", "side__name", {}, words.side[at]), box, made("span", "side__unit", {}, "mm")));
    const element = made("fieldset", "field", { "data-field": id }, made("legend", "field__label", {}, ...title(id, words, true)), ...(hint ? [hint] : []), made("div", "field__sides", {}, ...sides), fault);
    return {
      element,
      get: () => boxes.map((box) => box.value),
      set: (values) => boxes.forEach((box, at) => { box.value = (values || [])[at] || ""; }),
      fault: shown(element, fault, boxes),
      focus: () => boxes[0].focus(),
    };
  }

  /** A photo as base64, made small as soon as it is taken.
   * @param {string} id @param {RequestWords} words @param {() => void} changed @returns {FormField} */
  function photoField(id, words, changed) {
    const { hint, fault } = notes(id, words);
    const input = made("input", "photo__input", { type: "file", accept: "image/*", id: `request-${id}`, "aria-describedby": `request-${id}-hint request-${id}-fault` });
    const take = made("label", "button photo__take", { for: input.id }, words.take_photo);
    const picture = made("img", "photo__shown", { alt: words.photo_alt });
    const leave = made("button", "button", { type: "button" }, words.no_photo);
    const element = made("div", "field", { "data-field": id }, made("p", "field__label", {}, ...title(id, words, true)), ...(hint ? [hint] : []),
      made("div", "photo", {}, picture, input, take, leave), fault);
    const fails = shown(element, fault, [input]);
    let photo = "";
    const set = (/** @type {string} */ value) => {
      photo = /^[A-Za-z0-9+/]+={0,2}$/.test(value || "") ? value : "";
      picture.hidden = leave.hidden = !photo;
      if (photo) picture.src = `data:image/jpeg;base64,${photo}`;
      else picture.removeAttribute("src");
      take.textContent = photo ? words.other_photo : words.take_photo;
    };
    input.addEventListener("change", async () => {
      const [file] = input.files || [];
      if (!file) return;
      fails("");
      take.textContent = words.photo_busy;
      try {
        set(await spares.screen.smallPhoto(file));
      } catch {
        set(photo);
        fails(words.photo_bad);
      }
      input.value = "";
      changed();
    });
    leave.addEventListener("click", () => { set(""); changed(); input.focus(); });
    set("");
    return { element, get: () => photo, set, fault: fails, focus: () => input.focus() };
  }

  spares.screen = { ...spares.screen, fields: { textField, areaField, selectField, choiceField, sizesField, photoField } };
})();
