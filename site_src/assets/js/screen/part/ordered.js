// The order that is being filled in, kept on the tablet for this part until its checks are cleared, or it is emptied.
(function () {
  "use strict";

  const KEY = "spares.ordering";
  const { keepOf, keptOf } = spares.screen;
  const NAMES = /** @type {const} */ (["count", "vehicle", "by", "beside"]);
  const LONGEST = 20;

  const numberOf = () => globalThis.sparesPart?.number || "";

  /** What was typed for this part; what is not ours is left out.
   * @returns {BegunOrder} */
  function keptOrder() {
    const own = keptOf(KEY, numberOf());
    const given = own && typeof own === "object" ? NAMES.map((name) => [name, own[name]]) : [];
    return Object.fromEntries(given.filter(([, typed]) => typeof typed === "string" && typed.length <= LONGEST));
  }

  /** @param {BegunOrder} order with nothing in it, none is kept */
  function keepOrder(order) {
    keepOf(KEY, numberOf(), Object.keys(order).length ? order : null);
  }

  spares.screen = { ...spares.screen, keptOrder, keepOrder };
})();
