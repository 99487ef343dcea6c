// A vehicle that is typed into the finder: the answers are for it, whatever else is carried, and where nothing is carried it is
// carried from then on. One that no fleet has is told, and nothing is said to fit it.
//
// While one still types, "405" may be the beginning of "405 x 20": it is dropped again if it turns out so.
(function () {
  "use strict";

  const { filled, unspoken, vehicleOf } = spares.judge;
  const { forAsked, vehiclesAmong, whom, STRANGER } = spares.finder;
  const { choose, made, meant, named, short, vehicle } = spares.screen;
  const RESTS_AFTER_MS = 700;

  /** @type {Timer | undefined} */
  let resting;
  /** What is typed and not yet chosen.
   * @type {{ finder: FinderBox, query: string, one: string } | null} */
  let waiting = null;
  /** What was chosen by being typed, until the box is left. */
  let unsure = "";

  /** @param {Catalogue} parts @param {Ranked} ranked @param {string} query @returns {Heard} */
  const heardOf = (parts, ranked, query) => whom(parts.index, ranked, query, meant()?.number ?? null);

  /** The vehicles of what was heard, each with its fleets.
   * @param {FinderData} data @param {Heard} heard @returns {Carried[]} */
  function vehiclesOf(data, heard) {
    const among = data.fleets.filter((fleet) => !heard.fleets.length || heard.fleets.some((at) => data.fleets[at].id === fleet.id));
    return [...new Set(heard.vehicles)].map((number) => vehicleOf(number, among) || { number, fleets: [] });
  }

  /** @param {Carried} one @param {Heard} heard */
  const nameOf = (one, { stranger }) => (one.number === STRANGER && stranger ? [...stranger.among, short(stranger.text)].join(" ") : named(one));

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
    const taken = heard.taken.map(([typed, number]) => filled(words.vehicle.taken, { typed: short(typed), vehicle: named(vehicleOf(number, data.fleets) || { number, fleets: [] }) }, words));
    const several = all.length > 1 ? [filled(words.vehicle.several, facts, words)] : [];
    const stranger = heard.stranger ? [strangerLine(data, heard.stranger, facts.carried)] : [];
    const text = [...taken, ...several, ...stranger].join(" ");
    if (stranger.length || several.length) return { text, take: null };
    const isOther = carried && carried.number !== all[0].number;
    return isOther ? { text: [text, filled(words.vehicle.asked, facts, words)].filter(Boolean).join(" "), take: all[0] } : { text, take: null };
  }

  /** Why what was called a vehicle is none.
   * @param {FinderData} data @param {Stranger} stranger @param {string} carried its name; "" for none */
  function strangerLine(data, { text, kind, among, isBare }, carried) {
    const words = globalThis.sparesRules.words;
    const others = vehicleOf(text, data.fleets)?.fleets || [];
    const size = isBare ? short(text) : "";
    const said = kind === "range" ? words.vehicle.strange_range : among.length && others.length ? words.vehicle.strange_fleet : words.vehicle.strange_asked;
    return filled(said, { vehicle: short(text), carried, size, fleets: among, others }, words);
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

  /** Where nothing is carried, the one vehicle of a query is chosen once typing rests, or at once where a hand goes on.
   * @param {FinderBox} finder @param {Heard} heard */
  function typedVehicle(finder, heard) {
    clearTimeout(resting);
    const query = finder.input.value;
    const one = heard.isTyped && !heard.stranger && new Set(heard.vehicles).size === 1 ? heard.vehicles[0] : "";
    if (unsure && unsure !== one) {
      const typed = unsure;
      unsure = "";
      if (query.includes(typed)) choose("");
    }
    waiting = one && !vehicle() ? { finder, query, one } : null;
    if (waiting) resting = setTimeout(settleTyped, RESTS_AFTER_MS);
  }

  /** Takes what was typed as the vehicle, where it is certain, nothing else is carried, and it still stands there. */
  function settleTyped() {
    clearTimeout(resting);
    const typed = waiting;
    waiting = null;
    if (!typed || typed.query !== typed.finder.input.value || vehicle()) return;
    unsure = typed.one;
    typed.finder.input.addEventListener("change", () => { unsure = ""; }, { once: true });
    choose(typed.one);
  }

  // A hand goes on: before a link is followed (chosen.js leads on what is carried), when the page or the box is left. A box that is
  // left by a tap waits for its click, or the list would change under the finger.
  let isPointed = false;
  window.addEventListener("pointerdown", () => { isPointed = true; }, true);
  window.addEventListener("keydown", () => { isPointed = false; }, true);
  window.addEventListener("click", settleTyped, true);
  window.addEventListener("pagehide", settleTyped);
  document.addEventListener("focusout", ({ target }) => { if (!isPointed && waiting && target === waiting.finder.input) settleTyped(); });

  /** The vehicle that a found part's page is to speak of where it is not the one that is carried; "" for none.
   * @param {Heard} heard */
  function leadsTo(heard) {
    if (!heard.isTyped || new Set(heard.vehicles).size !== 1) return "";
    const { stranger } = heard;
    if (stranger) return [...stranger.among, stranger.text].join(" "); // "TR7 405" is not TR4 405
    return heard.vehicles[0] === vehicle()?.number ? "" : heard.vehicles[0];
  }

  spares.screen = { ...spares.screen, heardOf, leadsTo, notice, noticeLines, settleTyped, standingFor, typedVehicle };
})();
