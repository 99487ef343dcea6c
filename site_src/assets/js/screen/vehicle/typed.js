// A vehicle that is typed into the finder is carried from then on.
//
// While one still types, "405" may be the beginning of "405 x 20": the vehicle before it comes back if it turns out so.
(function () {
  "use strict";

  const { choose, tellStrange, vehicle } = spares.screen;
  const RESTS_AFTER_MS = 700;

  /** @type {Timer | undefined} */
  let resting;
  /** What was typed and what was carried before, until the box is left.
   * @type {{ typed: string, before: string } | null} */
  let unsure = null;

  /** @param {number[]} vehicles that a query names @returns {string} the one of them; "" for none and for several */
  function oneOf(vehicles) {
    const all = new Set(vehicles);
    return all.size === 1 ? String(vehicles[0]) : "";
  }

  /** What a query says of vehicles, once typing rests.
   * @param {FinderBox} finder @param {Catalogue} parts @param {Asked} asked */
  function typedVehicle(finder, parts, asked) {
    clearTimeout(resting);
    const query = finder.input.value;
    const one = oneOf(asked.vehicles);
    if (unsure && unsure.typed !== one) {
      const { typed, before } = unsure;
      unsure = null;
      if (query.includes(typed)) choose(before);
    }
    resting = setTimeout(() => {
      if (query !== finder.input.value) return;
      tellStrange(spares.judge.strangeIn(query, globalThis.sparesRules.fleets, parts.data.language.vehicles));
      const now = String(vehicle()?.number ?? "");
      if (!one || one === now) return;
      unsure = { typed: one, before: now };
      finder.input.addEventListener("change", () => { unsure = null; }, { once: true });
      choose(one);
    }, RESTS_AFTER_MS);
  }

  /** What a query asks, with the vehicle that is carried where it names none itself.
   * @param {Asked} asked @returns {Asked} */
  function withCarried(asked) {
    const carried = vehicle();
    return carried && !asked.vehicles.length ? { ...asked, fleets: [], vehicles: [carried.number], isCertain: true } : asked;
  }

  spares.screen = { ...spares.screen, typedVehicle, withCarried };
})();
