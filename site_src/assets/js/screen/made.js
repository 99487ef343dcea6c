// Makes one element; what goes in as a string stays text.
(function () {
  "use strict";

  /** @template {keyof HTMLElementTagNameMap} K @param {K} tag @param {string} name of the class
   * @param {Record<string, string>} attributes @param {...(string | Node)} content @returns {HTMLElementTagNameMap[K]} */
  function made(tag, name, attributes, ...content) {
    const element = document.createElement(tag);
    if (name) element.className = name;
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.append(...content);
    return element;
  }

  /** A button.
   * @param {string} word @param {string} name @param {() => void} pressed */
  function pressable(word, name, pressed) {
    const one = made("button", `button ${name}`, { type: "button" }, word);
    one.addEventListener("click", pressed);
    return one;
  }

  spares.screen = { ...spares.screen, made, pressable };
})();
