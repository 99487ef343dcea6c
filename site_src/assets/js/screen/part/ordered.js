// The order that is being filled in, kept on the tablet for this part until its checks are cleared, or it is emptied.
(function () {
  "use strict";

  const KEY = "spares.ordering";
  const NAMES = /** @type {const} */ (["count", "vehicle", "by"]);
  const LONGEST = 20;

  /** @returns {Record<string, BegunOrder>} */
  function readAll() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || "{}");
      return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
    } catch {
      return {}; // forbidden, or not ours
    }
  }

  /** What was typed for this part; what is not ours is left out.
   * @returns {BegunOrder} */
  function keptOrder() {
    const all = readAll();
    const number = globalThis.sparesPart?.number || "";
    const own = Object.prototype.hasOwnProperty.call(all, number) ? all[number] : null;
    const given = own && typeof own === "object" ? NAMES.map((name) => [name, own[name]]) : [];
    return Object.fromEntries(given.filter(([, typed]) => typeof typed === "string" && typed.length <= LONGEST));
  }

  /** @param {BegunOrder} order with nothing in it, none is kept */
  function keepOrder(order) {
    try {
      const all = readAll();
      const number = globalThis.sparesPart?.number || "";
      if (Object.keys(order).length) all[number] = order;
      else delete all[number];
      localStorage.setItem(KEY, JSON.stringify(all));
    } catch {
      // full or forbidden: then it lasts as long as the page
    }
  }

  spares.screen = { ...spares.screen, keptOrder, keepOrder };
})();
