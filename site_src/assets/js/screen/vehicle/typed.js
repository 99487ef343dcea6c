// A vehicle that is typed into the finder: the answers are for it, whatever else is carried, and where nothing is carried it is
// carried from then on. One that no fleet has is told, and nothing is said to fit it.
//
// While one still types, "405" may be the beginning of "405 x 20": it is dropped again if it turns out so.
(function () {
  "use strict";

  const { deniedIn, filled, strangeIn, unspoken, vehicleOf } = spares.judge;
  const { meantBy } = spares.vehicles;
  const { askedOf, forAsked, vehiclesAmong } = spares.finder;
  const { choose, made, meant, named, short, unexplained, vehicle } = spares.screen;
  const RESTS_AFTER_MS = 700;
  const STRANGER = "";

  /** @type {Timer | undefined} */
  let resting;
  /** What was chosen by being typed, until the box is left. */
  let unsure = "";

  /** What a query says of vehicles; where it names none, the one that is carried. A vehicle that is named narrows, also by its
   * number alone: no answer is for one that was not asked for.
   * @param {Catalogue} parts @param {Ranked} ranked @param {string} query @returns {Heard} */
  function heardOf(parts, ranked, query) {
    const denied = deniedIn(query, parts.data.fleets, parts.data.language.vehicles);
    const alone = unexplained(parts.index, ranked);
    const said = without(withDotted(askedOf(parts.index, ranked.items), alone, parts.data.fleets), denied);
    const strangeAmong = (/** @type {string[]} */ numbers) => strangeIn(query, parts.data.fleets, parts.data.language.vehicles, numbers);
    const strange = strangeAmong(alone) || ranked.strange;
    const vehicles = strange ? [...said.vehicles.filter((each) => each !== meantBy(strange, parts.data.fleets)), STRANGER] : said.vehicles;
    if (vehicles.length) {
      const isTogether = parts.data.fleets.some((_fleet, at) => said.fleets.includes(at) && vehiclesAmong(parts.data, { fleet: at, vehicles: [] }, vehicles).length);
      return { ...said, fleets: isTogether ? said.fleets : [], vehicles, isCertain: true, strange, isBare: strangeAmong([]) === "" && /^[\d.]+$/.test(strange), isTyped: true };
    }
    const carried = denied.includes(meant()?.number || "") ? null : meant();
    const kept = carried ? { ...said, fleets: [], vehicles: [carried.number], isCertain: true } : said;
    return { ...kept, strange: "", isBare: false, isTyped: false };
  }

  /** "31.02" may be millimetres: where nothing found has them, it is the vehicle of that number.
   * @param {Asked} asked @param {string[]} alone @param {RulesFleet[]} fleets @returns {Asked} */
  function withDotted(asked, alone, fleets) {
    const dotted = alone.filter((text) => text.includes(".")).map((text) => meantBy(text, fleets)).filter((number) => number && !asked.vehicles.includes(number));
    return dotted.length ? { ...asked, vehicles: [...asked.vehicles, ...dotted], isCertain: true } : asked;
  }

  /** @param {Asked} asked @param {string[]} denied "not 405" asks for no answer about 405 @returns {Asked} */
  function without(asked, denied) {
    if (!denied.length) return asked;
    const left = (/** @type {string[]} */ numbers) => numbers.filter((each) => !denied.includes(each));
    return { ...asked, vehicles: left(asked.vehicles), maybe: left(asked.maybe), isCertain: asked.isCertain && left(asked.vehicles).length > 0 };
  }

  /** The vehicles of what was heard, each with its fleets.
   * @param {FinderData} data @param {Heard} heard @returns {Carried[]} */
  function vehiclesOf(data, heard) {
    const among = data.fleets.filter((fleet) => !heard.fleets.length || heard.fleets.some((at) => data.fleets[at].id === fleet.id));
    return [...new Set(heard.vehicles)].map((number) => vehicleOf(number, among) || { number, fleets: [] });
  }

  /** @param {Carried} one @param {Heard} heard */
  const nameOf = (one, heard) => (one.number === STRANGER && heard.strange ? short(heard.strange) : named(one));

  /** How a part stands for the vehicles that were asked for.
   * @param {FinderData} data @param {Stand[]} stands @param {Heard} heard */
  function standingFor(data, stands, heard) {
    const answer = forAsked(data, stands, heard);
    return { ...answer, unsaid: unsaid(data, heard, answer.shown) };
  }

  /** The vehicles that were asked for and of which no stand speaks, as words.
   * @param {FinderData} data @param {Heard} heard @param {Stand[]} shown @returns {string[]} */
  function unsaid(data, heard, shown) {
    return vehiclesOf(data, heard).flatMap((one) => {
      const spoken = shown.filter((stand) => vehiclesAmong(data, stand, [one.number]).length).map((stand) => data.fleets[stand.fleet].id);
      return unspoken(one, spoken).map((each) => nameOf(each, heard));
    });
  }

  /** What is said above the answers: for whom they are, where that is not what the header shows.
   * @param {FinderData} data @param {Heard} heard @returns {{ text: string, take: Carried | null }} */
  function notice(data, heard) {
    const words = globalThis.sparesRules.words;
    const all = vehiclesOf(data, heard);
    const carried = vehicle();
    const facts = { carried: carried ? named(carried) : "", vehicle: all.length ? nameOf(all[0], heard) : "", vehicles: all.map((one) => nameOf(one, heard)) };
    if (!heard.isTyped) return { text: "", take: null };
    const size = heard.isBare ? short(heard.strange) : "";
    const stranger = heard.strange ? filled(words.vehicle.strange_asked, { ...facts, vehicle: short(heard.strange), size }, words) : "";
    const several = all.length > 1 ? filled(words.vehicle.several, facts, words) : "";
    if (stranger || several) return { text: [several, stranger].filter(Boolean).join(" "), take: null };
    const isOther = carried && carried.number !== all[0].number;
    return isOther ? { text: filled(words.vehicle.asked, facts, words), take: all[0] } : { text: "", take: null };
  }

  /** @param {FinderBox} finder @param {{ text: string, take: Carried | null }} notice @returns {HTMLElement[]} */
  function noticeLines(finder, { text, take }) {
    if (!text) return [];
    const words = globalThis.sparesRules.words;
    const line = made("p", "finder__vehicle", {}, made("span", "", {}, text));
    if (!take) return [line];
    const button = made("button", "button", { type: "button" }, filled(words.vehicle.take, { vehicle: named(take) }, words));
    button.addEventListener("click", () => { choose(take.number); finder.input.focus(); });
    line.append(" ", button);
    return [line];
  }

  /** Where nothing is carried, the one vehicle of a query is chosen once typing rests.
   * @param {FinderBox} finder @param {Heard} heard */
  function typedVehicle(finder, heard) {
    clearTimeout(resting);
    const query = finder.input.value;
    const one = heard.isTyped && !heard.strange && new Set(heard.vehicles).size === 1 ? heard.vehicles[0] : "";
    if (unsure && unsure !== one) {
      const typed = unsure;
      unsure = "";
      if (query.includes(typed)) choose("");
    }
    resting = setTimeout(() => {
      if (query !== finder.input.value || !one || vehicle()) return;
      unsure = one;
      finder.input.addEventListener("change", () => { unsure = ""; }, { once: true });
      choose(one);
    }, RESTS_AFTER_MS);
  }

  /** The vehicle that a found part's page is to speak of where it is not the one that is carried; "" for none.
   * @param {Heard} heard */
  function leadsTo(heard) {
    if (!heard.isTyped || new Set(heard.vehicles).size !== 1) return "";
    return heard.strange || (heard.vehicles[0] === vehicle()?.number ? "" : heard.vehicles[0]);
  }

  spares.screen = { ...spares.screen, heardOf, leadsTo, notice, noticeLines, standingFor, typedVehicle };
})();
