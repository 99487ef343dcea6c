// Which vehicle does the mechanic stand at? Chosen once it stays, on this tablet and in the address, until it is dropped.
//
// Kept is a number and no word of any verdict: each copy looks it up among its own fleets, and one that it does not know is
// told and not chosen. After "?" over http, after "#" from disk; both are read everywhere.
(function () {
  "use strict";

  const KEY = "spares.vehicle";
  const NAME = "vehicle";
  const { base } = spares.screen;
  const fleets = () => (globalThis.sparesRules && globalThis.sparesRules.fleets) || [];

  /** @type {Carried | null} */
  let carried = null;
  let strange = "";

  /** @returns {string | null} what the address asks for */
  function inAddress() {
    return new URLSearchParams(location.hash.slice(1)).get(NAME) ?? new URLSearchParams(location.search).get(NAME);
  }

  /** @returns {string | null} */
  function kept() {
    try {
      return localStorage.getItem(KEY);
    } catch {
      return null; // a tablet may forbid it; the address then carries the vehicle
    }
  }

  function keep() {
    try {
      if (carried) localStorage.setItem(KEY, String(carried.number));
      else localStorage.removeItem(KEY);
    } catch {
      // as above
    }
  }

  /** An address with the vehicle, or without one; a place on a page that is opened from disk stays what it is.
   * @param {URL} page */
  function withVehicle(page) {
    const places = /** @type {("hash" | "search")[]} */ (page.protocol === "file:" ? ["hash"] : ["search", "hash"]);
    places.forEach((place, at) => {
      if (page[place] && !page[place].includes("=")) return;
      const asked = new URLSearchParams(page[place].slice(1));
      if (carried && at === 0) asked.set(NAME, String(carried.number));
      else if (asked.has(NAME)) asked.delete(NAME);
      else return;
      page[place] = asked.toString();
    });
    return page;
  }

  function keepInAddress() {
    try {
      const next = withVehicle(new URL(location.href)).href;
      if (next !== location.href) history.replaceState(history.state, "", next);
    } catch {
      // a browser may refuse; the tablet keeps it all the same
    }
  }

  /** @param {string} text a number; "" for none */
  function look(text) {
    carried = text ? spares.judge.vehicleOf(text, fleets()) : null;
    strange = text && !carried ? text : "";
  }

  /** Carry this vehicle from now on; "" drops the one that was carried, and one that no fleet has is told and not chosen.
   * @param {string} text */
  function choose(text) {
    look(text);
    keep();
    keepInAddress();
    document.dispatchEvent(new CustomEvent("spares:vehicle"));
  }

  /** Tell of a vehicle that somebody named and no fleet has; what is carried stays.
   * @param {string} text "" where nothing is to be told any more */
  function tellStrange(text) {
    if (strange === text) return;
    strange = text;
    document.dispatchEvent(new CustomEvent("spares:vehicle"));
  }

  /** Links to other pages carry it, so that it holds where a tablet keeps nothing, and in what is copied.
   * @param {Event} event */
  function lead(event) {
    const link = event.target instanceof Element ? /** @type {HTMLAnchorElement | null} */ (event.target.closest("a[href]")) : null;
    if (!carried || !link || link.hasAttribute("download") || !link.href.startsWith(base.href)) return;
    const to = new URL(link.href);
    if (to.pathname.endsWith(".html") && to.pathname !== location.pathname) link.href = withVehicle(to).href;
  }

  const vehicle = () => carried;
  const strangeVehicle = () => strange;
  spares.screen = { ...spares.screen, vehicle, strangeVehicle, choose, tellStrange };

  const asked = inAddress();
  look(asked ?? kept() ?? "");
  keep();
  if (carried) keepInAddress();
  for (const kind of ["click", "auxclick", "contextmenu"]) document.addEventListener(kind, lead, true);
  window.addEventListener("hashchange", () => {
    const other = inAddress();
    if (other !== null && other !== String(carried?.number)) choose(other);
  });
  window.addEventListener("storage", (event) => { if (event.key === KEY) choose(event.newValue || ""); });
  window.addEventListener("pageshow", (event) => { if (event.persisted) choose(kept() ?? String(carried?.number ?? "")); });
})();
