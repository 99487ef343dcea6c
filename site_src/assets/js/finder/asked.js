// Which vehicles and fleets does a query name, and which of a part's grounds speak of them? Pure.
//
// A vehicle that is named narrows: what holds for the others of its fleet, or for another fleet, is no answer for it.
// A fleet that is named comes first. A number below 100 may as well be millimetres: its vehicle comes first, no more.
(function () {
  "use strict";

  const { isAmong, meantBy, plain } = spares.vehicles;
  const SURELY_A_VEHICLE = 100;

  /** Whether a number that stands alone is meant for a vehicle, and for nothing else: "405", or "31.02" where one is written so.
   * @param {string} text @param {string} meant */
  const isSurelyOne = (text, meant) => (/^\d+$/.test(text) ? Number(text) >= SURELY_A_VEHICLE : text === meant);

  /** @param {Index} index @param {{ kind: string, text: string, isStrange?: boolean, isNoVehicle?: boolean }[]} items of `rank` @returns {Asked} */
  function askedOf(index, items) {
    /** @type {Asked} */
    const asked = { fleets: [], vehicles: [], maybe: [], taken: [], isCertain: false };
    for (const { kind, text, isStrange, isNoVehicle } of items) {
      if (isStrange || isNoVehicle) continue;
      if (kind === "fleet") asked.fleets.push(index.fleets.findIndex((fleet) => fleet.id === text));
      const meant = kind === "vehicle" || kind === "bare" ? meantBy(text, index.fleets) : "";
      if (!meant) continue;
      if (kind === "vehicle") asked.isCertain = true;
      const isOne = kind === "vehicle" || isSurelyOne(text, meant);
      (isOne ? asked.vehicles : asked.maybe).push(meant);
      if (isOne && plain(text) !== plain(meant)) asked.taken.push([text, meant]);
    }
    return asked;
  }

  /** What answers for what was asked, in the order to show it. `judged` is what a verdict filter looks at; `vehicles`
   * are those of the asked that each shown one speaks of, empty where the query names none.
   * @template {OfVehicles} T @param {{ fleets: { vehicles: string[] }[] }} data @param {T[]} grounds @param {Asked} asked
   * @returns {{ judged: T[], shown: T[], vehicles: string[] }} */
  function forAsked(data, grounds, asked) {
    const ofFleet = asked.fleets.length ? grounds.filter((each) => asked.fleets.includes(each.fleet)) : grounds;
    const named = ofFleet.filter((each) => vehiclesAmong(data, each, asked.vehicles).length);
    if (asked.vehicles.length && (named.length || asked.isCertain)) return { judged: named, shown: named, vehicles: asked.vehicles };
    const first = ofFleet.filter((each) => asked.fleets.length || vehiclesAmong(data, each, asked.maybe).length);
    const judged = asked.fleets.length && first.length ? first : grounds;
    return { judged, shown: [...first, ...grounds.filter((each) => !first.includes(each))], vehicles: [] };
  }

  /** Those of some vehicles that a ground speaks of; one without vehicles speaks of its whole fleet.
   * @param {{ fleets: { vehicles: string[] }[] }} data @param {OfVehicles} ground @param {string[]} vehicles */
  function vehiclesAmong(data, ground, vehicles) {
    const ranges = ground.vehicles.length ? ground.vehicles : (data.fleets[ground.fleet] || { vehicles: [] }).vehicles;
    return vehicles.filter((vehicle) => isAmong(ranges, vehicle));
  }

  spares.finder = { ...spares.finder, askedOf, forAsked, vehiclesAmong };
})();
