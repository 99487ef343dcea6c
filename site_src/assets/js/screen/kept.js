// What is begun on this tablet, by name under one key of its store. Where it may keep nothing, nothing is begun.
(function () {
  "use strict";

  /** @param {string} key @returns {Record<string, unknown>} */
  function readAll(key) {
    try {
      const kept = JSON.parse(localStorage.getItem(key) || "{}");
      return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
    } catch {
      return {}; // forbidden, or not ours
    }
  }

  /** What was begun under a name, as it was read: whether it is ours is for the caller to say. Null where there is none.
   * @param {string} key @param {string} name */
  function keptOf(key, name) {
    const all = readAll(key);
    return Object.prototype.hasOwnProperty.call(all, name) ? all[name] : null;
  }

  /** @param {string} key @param {string} name @param {object | null} begun null: it is kept no more @returns {boolean} whether it is kept */
  function keepOf(key, name, begun) {
    try {
      const all = readAll(key);
      if (begun) all[name] = begun;
      else delete all[name];
      localStorage.setItem(key, JSON.stringify(all));
      return true;
    } catch {
      return false; // full or forbidden: then it lasts as long as the page
    }
  }

  spares.screen = { ...spares.screen, keptOf, keepOf };
})();
