// Which vehicle is meant, and what speaks of it? A number that no fleet has is no vehicle. Pure.
(function () {
  "use strict";

  const { isAmong, isLikeOneOf, meantBy } = spares.vehicles;
  /** With fewer, a bare number is as likely a size as a vehicle. */
  const SURELY_DIGITS = 3;
  /** What takes a vehicle out of what is asked, in the languages of the floor; "no" may stand for "number". */
  const DENYING = ["not", "except", "without", "nicht", "außer", "ohne", "kein", "keine", "ikke", "undtagen", "uden", "ingen"];

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

  /** What a query calls a vehicle, "car 499", "TR4-499" or a number alone that nothing else explains, though no fleet has it;
   * "" where there is none such.
   * @param {string} query @param {RulesFleet[]} fleets @param {string[]} words for a vehicle
   * @param {string[]} unexplained numbers that are no size and no number of a part */
  function strangeIn(query, fleets, words, unexplained) {
    const said = query.toLowerCase().split(/[\s,;:!?]+|\.(?!\d)|(?<!\d)\.|(?<=[a-z]\d{0,3})\/(?=\d)|-(?=\d)|#|(?<=\D)°/).filter((word) => word && !["no", "nr", "n"].includes(word));
    const named = said.flatMap((word, at) => {
      const fleet = fleets.filter((each) => each.id.toLowerCase() === word);
      const next = said[at + 1];
      const isLike = (fleet.length ? fleet : fleets).some((each) => isLikeOneOf(next || "", each.vehicles)); // "TR4 35" is a size
      const isOne = isLike || (words.includes(word) && /^\d+$/.test(next || ""));
      return isOne && (fleet.length || words.includes(word)) ? [{ next, among: fleet.length ? fleet : fleets }] : [];
    });
    const strange = named.find(({ next, among }) => !vehicleOf(next, among));
    return strange ? strange.next : unexplained.find((text) => isLikeOne(text, fleets)) || "";
  }

  /** The vehicles that a query takes out: "not 405", "ikke TR4 405", "ohne Wagen 405".
   * @param {string} query @param {RulesFleet[]} fleets @param {string[]} words for a vehicle @returns {string[]} */
  function deniedIn(query, fleets, words) {
    const said = query.toLowerCase().split(/[^\p{L}\d.]+/u);
    const isBetween = (/** @type {string} */ word) => words.includes(word) || fleets.some((fleet) => fleet.id.toLowerCase() === word);
    return said.flatMap((word, at) => {
      if (!DENYING.includes(word)) return [];
      const next = said.slice(at + 1).find((each) => !isBetween(each)) || "";
      return vehicleOf(next, fleets)?.number || [];
    });
  }

  /** Whether a number that stands alone looks as the fleets' own do, and is none of them.
   * @param {string} text @param {RulesFleet[]} fleets */
  function isLikeOne(text, fleets) {
    if (/^\d+$/.test(text) && text.length < SURELY_DIGITS) return false;
    return !vehicleOf(text, fleets) && fleets.some((fleet) => isLikeOneOf(text, fleet.vehicles));
  }

  /** The vehicle once for each of its fleets that none of these speaks of; without a fleet, itself.
   * @param {Carried} vehicle @param {string[]} spoken fleets that have a word for it @returns {Carried[]} */
  function unspoken(vehicle, spoken) {
    if (!vehicle.fleets.length) return [vehicle];
    return vehicle.fleets.filter((fleet) => !spoken.includes(fleet)).map((fleet) => ({ ...vehicle, fleets: [fleet] }));
  }

  spares.judge = { ...spares.judge, vehicleOf, speaksOf, strangeIn, deniedIn, unspoken };
})();
