// Makes one element; what goes in as a string stays text.
(function (root) {
  "use strict";

  /** @param {string} tag @param {string} name of the class @param {Record<string, string>} attributes
   * @param {...(string | Node)} content @returns {any} */
  function made(tag, name, attributes, ...content) {
    const element = document.createElement(tag);
    if (name) element.className = name;
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.append(...content);
    return element;
  }

  root.spares = Object.assign(root.spares || {}, { made });
})(/** @type {any} */ (globalThis));
