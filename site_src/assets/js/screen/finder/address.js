// Which query and filters does an address carry? After "?" over http, after "#" from disk, where a page may not
// change the rest; both are read everywhere.
(function () {
  "use strict";

  /** @type {FilterName[]} */
  const CHOICES = ["fleet", "place", "verdict"];

  /** @param {URL} page @param {string} query @param {Filter} filter @returns {string} */
  function addressFor(page, query, filter) {
    const asked = new URLSearchParams();
    if (query) asked.set("q", query);
    for (const name of CHOICES) {
      const value = filter[name];
      if (value) asked.set(name, value);
    }
    if (filter.stock) asked.set("stock", "1");
    const carried = spares.screen.vehicle();
    if (carried) asked.set("vehicle", carried.number);
    page[page.protocol === "file:" ? "hash" : "search"] = asked.toString();
    return page.href;
  }

  /** @param {string} query @param {Filter} filter */
  function keepInAddress(query, filter) {
    try {
      const page = new URL(location.href);
      page.hash = "";
      if (page.protocol !== "file:") page.search = "";
      history.replaceState(history.state, "", addressFor(page, query, filter));
    } catch {
      // a browser may refuse; the finder works all the same
    }
  }

  /** @returns {{ query: string, filter: Filter }} */
  function fromAddress() {
    const asked = new Map([...new URLSearchParams(location.search), ...new URLSearchParams(location.hash.slice(1))]);
    const text = (/** @type {string} */ name) => asked.get(name) || "";
    return {
      query: text("q"),
      filter: { fleet: text("fleet"), place: text("place"), verdict: text("verdict"), stock: text("stock") === "1" },
    };
  }

  spares.screen = { ...spares.screen, addressFor, keepInAddress, fromAddress, CHOICES };
})();
