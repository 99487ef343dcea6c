// Which vehicle is meant, and what speaks of it? A number that no fleet has is no vehicle. Pure.
(function () {
  "use strict";

  const { isAmong, meantBy } = spares.vehicles;

  /** The vehicle of that number with every fleet that has it; null where none has.
   * @param {string} text @param {RulesFleet[]} fleets @returns {Carried | null} */
  function vehicleOf(text, fleets) {
    const number = meantBy(text, fleets);
    return number ? { number, fleets: fleets.filter((fleet) => isAmong(fleet.vehicles, number)).map((fleet) => fleet.id) } : null;
  }

  /** Whether what is said of some vehicles of a fleet is said of this one; where no vehicles are named, it is of all.
   * @param {string} fleet @param {string[]} ranges @param {Carried} vehicle */
  function speaksOf(fleet, ranges, vehicle) {
    return vehicle.fleets.includes(fleet) && (!ranges.length || isAmong(ranges, vehicle.number));
  }

  /** The vehicle once for each of its fleets that none of these speaks of; without a fleet, itself.
   * @param {Carried} vehicle @param {string[]} spoken fleets that have a word for it @returns {Carried[]} */
  function unspoken(vehicle, spoken) {
    if (!vehicle.fleets.length) return [vehicle];
    return vehicle.fleets.filter((fleet) => !spoken.includes(fleet)).map((fleet) => ({ ...vehicle, fleets: [fleet] }));
  }

  spares.judge = { ...spares.judge, vehicleOf, speaksOf, unspoken };
})();
