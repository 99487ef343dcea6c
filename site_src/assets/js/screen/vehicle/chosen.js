// Which vehicle does the mechanic stand at? Chosen once it stays, on this tablet and in the address, until it is dropped.
//
// Kept is a number and no word of any verdict: each copy looks it up among its own fleets, and one that it does not know is
// told and not chosen; what was carried before stays. After "?" over http, after "#" from disk; both are read everywhere.
(function () {
  "use strict";

  const KEY = "spares.vehicle";
  const NAME = "vehicle";
  const { base } = spares.screen;
  const fleets = () => (globalThis.sparesRules && globalThis.sparesRules.fleets) || [];

  /** @type {Carried | null} */
  let carried = null;
  let strange = "";
  /** What an address has taken the place of: told, with the way back.
   * @type {Carried | null} */
  let instead = null;

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
      if (carried) localStorage.setItem(KEY, carried.number);
      else localStorage.removeItem(KEY);
    } catch {
      // as above
    }
  }

  /** An address with the vehicle, or without one; a place on a page that is opened from disk stays what it is.
   * @param {URL} page @param {string} [number] another than the one that is carried */
  function withVehicle(page, number = carried?.number) {
    const places = /** @type {("hash" | "search")[]} */ (page.protocol === "file:" ? ["hash"] : ["search", "hash"]);
    places.forEach((place, at) => {
      if (page[place] && !page[place].includes("=")) return;
      const asked = new URLSearchParams(page[place].slice(1));
      if (number !== undefined && at === 0) asked.set(NAME, number);
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
    const found = text ? spares.judge.vehicleOf(text, fleets()) : null;
    instead = null;
    strange = text && !found ? text : "";
    if (!strange) carried = found;
  }

  /** Carry this vehicle from now on; "" drops the one that was carried, and one that no fleet has is told and not chosen.
   * @param {string} text */
  function choose(text) {
    look(text);
    keep();
    if (!strange) keepInAddress();
    document.dispatchEvent(new CustomEvent("spares:vehicle"));
  }

  /** What an address asks for; nobody loses the vehicle that is carried without being told.
   * @param {string} asked */
  function follow(asked) {
    const before = carried;
    look(asked);
    if (before && carried && before.number !== carried.number) instead = before;
  }

  /** Links to other pages carry it, so that it holds where a tablet keeps nothing, and in what is copied.
   * @param {Event} event */
  function lead(event) {
    const link = event.target instanceof Element ? /** @type {HTMLAnchorElement | null} */ (event.target.closest("a[href]")) : null;
    if (!carried || !link || link.hasAttribute("download") || link.dataset.vehicle || !link.href.startsWith(base.href)) return;
    const to = new URL(link.href);
    if (to.pathname.endsWith(".html") && to.pathname !== location.pathname) link.href = withVehicle(to).href;
  }

  const vehicle = () => carried;
  const strangeVehicle = () => strange;
  const insteadOf = () => instead;
  /** Of which vehicle words are to be: the one that is carried, else one of no fleet where a stranger was named. */
  const meant = () => carried || (strange ? { number: "", fleets: [] } : null);
  spares.screen = { ...spares.screen, vehicle, strangeVehicle, insteadOf, meant, choose, withVehicle };

  look(kept() ?? "");
  const asked = inAddress();
  if (asked) follow(asked);
  keep();
  if (carried && !strange) keepInAddress();
  for (const kind of ["click", "auxclick", "contextmenu"]) document.addEventListener(kind, lead, true);
  window.addEventListener("hashchange", () => {
    const other = inAddress();
    if (!other || other === carried?.number) return;
    follow(other);
    keep();
    document.dispatchEvent(new CustomEvent("spares:vehicle"));
  });
  window.addEventListener("storage", (event) => { if (event.key === KEY) choose(event.newValue || ""); });
  window.addEventListener("pageshow", (event) => { if (event.persisted) choose(kept() ?? carried?.number ?? ""); });
})();
