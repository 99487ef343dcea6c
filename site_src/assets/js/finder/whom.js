// For which vehicles are the answers: those that a query names, else the one that is carried? Pure.
//
// A vehicle that no fleet has is a stranger: it is told, and nothing is said to fit it.
(function () {
  "use strict";

  const { askedOf, tidy, unexplained, vehiclesAmong, vehicleWords } = spares.finder;
  const { deniedIn, meantBy, strangeIn } = spares.vehicles;
  /** The number of one that no fleet has. */
  const STRANGER = "";

  /** What a query says of vehicles; where it names none, the one that is carried. A vehicle that is named narrows, also by its
   * number alone: no answer is for one that was not asked for.
   * @param {Index} index @param {Ranked} ranked @param {string} query @param {string | null} carried null for none @returns {Heard} */
  function whom(index, ranked, query, carried) {
    const words = vehicleWords(index);
    const text = tidy(index, ranked.besides ?? query); // "batch 150" is no vehicle
    const denied = deniedIn(text, words);
    const alone = unexplained(index, ranked);
    const said = without(withDotted(askedOf(index, ranked.items), alone, index.fleets), denied);
    const stranger = strangeIn(text, words, alone) || named(ranked.strange);
    const isOff = (/** @type {string} */ number) => stranger !== null && [stranger.text, ...stranger.ends].some((each) => meantBy(each, index.fleets) === number);
    const vehicles = stranger ? [...said.vehicles.filter((each) => !isOff(each)), STRANGER] : said.vehicles;
    if (vehicles.length) {
      const isTogether = index.fleets.some((_fleet, at) => said.fleets.includes(at) && vehiclesAmong(index, { fleet: at, vehicles: [] }, vehicles).length);
      return { ...said, fleets: isTogether ? said.fleets : [], vehicles, isCertain: true, stranger, isTyped: true };
    }
    const own = carried === null || (carried && denied.includes(carried)) ? null : carried;
    const kept = own === null ? said : { ...said, fleets: [], vehicles: [own], isCertain: true };
    return { ...kept, stranger: null, isTyped: false };
  }

  /** @param {string} text @returns {Stranger | null} */
  const named = (text) => (text ? { text, kind: "vehicle", among: [], ends: [], isBare: /^[\d.]+$/.test(text) } : null);

  /** "31.02" may be millimetres: where nothing found has them, it is the vehicle of that number.
   * @param {Asked} asked @param {string[]} alone @param {RulesFleet[]} fleets @returns {Asked} */
  function withDotted(asked, alone, fleets) {
    const dotted = alone.filter((text) => text.includes(".")).map((text) => /** @type {[string, string]} */ ([text, meantBy(text, fleets)])).filter(([, number]) => number && !asked.vehicles.includes(number));
    const taken = dotted.filter(([text, number]) => text !== number);
    return dotted.length ? { ...asked, vehicles: [...asked.vehicles, ...dotted.map(([, number]) => number)], taken: [...asked.taken, ...taken], isCertain: true } : asked;
  }

  /** @param {Asked} asked @param {string[]} denied "not 405" asks for no answer about 405 @returns {Asked} */
  function without(asked, denied) {
    if (!denied.length) return asked;
    const left = (/** @type {string[]} */ numbers) => numbers.filter((each) => !denied.includes(each));
    return { ...asked, vehicles: left(asked.vehicles), maybe: left(asked.maybe), isCertain: asked.isCertain && left(asked.vehicles).length > 0 };
  }

  spares.finder = { ...spares.finder, whom, STRANGER };
})();
