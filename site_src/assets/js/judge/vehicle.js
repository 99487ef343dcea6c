// Which vehicle is meant, and what speaks of it? A number that no fleet has is no vehicle. Pure.
(function () {
  "use strict";

  const NUMBER = /^\d{1,9}$/;

  /** Whether a number lies in ranges such as "401-412".
   * @param {string[]} ranges @param {number} number */
  function isAmong(ranges, number) {
    return ranges.some((range) => {
      const [first, last] = range.split("-").map(Number);
      return first <= number && number <= (last || first);
    });
  }

  /** The vehicle of that number with every fleet that has it; null where none has.
   * @param {string} text @param {RulesFleet[]} fleets @returns {Carried | null} */
  function vehicleOf(text, fleets) {
    if (!NUMBER.test(text)) return null;
    const number = Number(text);
    const own = fleets.filter((fleet) => isAmong(fleet.vehicles, number)).map((fleet) => fleet.id);
    return own.length ? { number, fleets: own } : null;
  }

  /** Whether what is said of some vehicles of a fleet is said of this one; where no vehicles are named, it is of all.
   * @param {string} fleet @param {string[]} ranges @param {Carried} vehicle */
  function speaksOf(fleet, ranges, vehicle) {
    return vehicle.fleets.includes(fleet) && (!ranges.length || isAmong(ranges, vehicle.number));
  }

  /** What a query calls a vehicle, "car 499" or "TR4 499", though no fleet has it; "" where it calls nothing so.
   * @param {string} query @param {RulesFleet[]} fleets @param {string[]} words for a vehicle */
  function strangeIn(query, fleets, words) {
    const said = query.toLowerCase().split(/[\s,;]+/);
    const names = [...fleets.map((fleet) => fleet.id.toLowerCase()), ...words];
    const at = said.findIndex((word, here) => names.includes(word) && NUMBER.test(said[here + 1] || ""));
    if (at < 0) return "";
    const fleet = fleets.filter((each) => each.id.toLowerCase() === said[at]);
    return vehicleOf(said[at + 1], fleet.length ? fleet : fleets) ? "" : said[at + 1];
  }

  spares.judge = { ...spares.judge, isAmong, vehicleOf, speaksOf, strangeIn };
})();
