// How does a part stand today with each group of its vehicles? From what the finder's data says of all parts. Pure.
(function () {
  "use strict";

  const FROM_BEST_TO_WORST = ["fit", "ask", "no"];
  const { forgottenOn, judgedTogether, ofPiece, speaksOf, unspoken } = spares.judge;

  /** Facts as they were before finder/index.py took out what repeats.
   * @param {FinderData} data @param {number} at
   * @returns {Facts} */
  function factsOf(data, at) {
    const { names, values, permits } = data.facts;
    /** @type {Facts} */
    const facts = {};
    permits[at].forEach((value, name) => {
      if (value >= 0) facts[names[name]] = values[value];
    });
    return facts;
  }

  /** A part's grounds with their facts.
   * @param {FinderData} data @param {PartRecord} record @returns {Spoken[]} */
  function groundsOf(data, record) {
    return record.grounds.map(([fleet, place, vehicles, label, permits, pieces]) => ({
      fleet: (data.fleets[fleet] || {}).id, place: data.places[place], label, vehicles, pieces: pieces || [],
      permits: permits.map((at) => factsOf(data, at)),
    }));
  }

  /** Verdicts by permits and by what is known of the copy: many parts stand alike, and each set is judged once a day.
   * @type {{ data: FinderData | null, rules: Rules | null, day: string, verdicts: Map<string, Verdict | null> }} */
  let known = { data: null, rules: null, day: "", verdicts: new Map() };

  /** @param {FinderData} data @param {number[]} permits @param {string} day @param {Rules} rules @param {Facts} copy
   * @returns {Verdict | null} */
  function judgedOnce(data, permits, day, rules, copy) {
    if (known.data !== data || known.rules !== rules || known.day !== day) known = { data, rules, day, verdicts: new Map() };
    const key = `${permits.join()} ${Object.values(copy).join()}`;
    let verdict = known.verdicts.get(key);
    if (verdict === undefined) {
      verdict = verdictOf(permits.map((at) => ({ ...factsOf(data, at), ...copy })), day, rules);
      known.verdicts.set(key, verdict);
    }
    return verdict;
  }

  /** @param {Facts[]} facts @param {string} day @param {Rules} rules @returns {Verdict | null} */
  function verdictOf(facts, day, rules) {
    try {
      if (facts.some((each) => each.built_on !== rules.built_on)) throw new Error("facts of another copy");
      return judgedTogether(facts, day, rules.table).verdict;
    } catch {
      return null; // the page of the part says more; a list never says better than it knows
    }
  }

  /** How a part stands on a day with each group of its vehicles. What is not said of the copy is missing, and what is
   * missing never passes. `ended`: what the tablet has seen of the part before.
   * @param {FinderData} data @param {PartRecord} record @param {string} day @param {Rules} rules @param {Facts} copy
   * @param {Ending[]} ended @returns {Stand[]} */
  function standings(data, record, day, rules, copy, ended) {
    const grounds = ended.length ? groundsOf(data, record) : [];
    return record.grounds.map(([fleet, place, vehicles, label, permits], at) => {
      const known = { ...copy, forgotten: ended.length ? forgottenOn(ended, grounds, grounds[at]) : null };
      return { fleet, place, vehicles, label, verdict: permits.length ? judgedOnce(data, permits, day, rules, known) : null };
    });
  }

  /** The same of a piece of one batch: as its own revision stands, where any of the grounds speaks of that.
   * @param {FinderData} data @param {PartRecord} record @param {string} day @param {Rules} rules @param {Facts} copy
   * @param {Ending[]} ended @param {string} batch @param {Facts | null} [against] what speaks against it besides @returns {Stand[]} */
  function standingsOfPiece(data, record, day, rules, copy, ended, batch, against = null) {
    const grounds = groundsOf(data, record);
    const stands = standings(data, record, day, rules, copy, ended).map((stand, at) => {
      const known = { ...copy, forgotten: ended.length ? forgottenOn(ended, grounds, grounds[at]) : null };
      try {
        const told = { batches: record.batches || [], pieces: data.pieces };
        const facts = ofPiece(grounds[at].permits, grounds[at].pieces, batch, told, rules.unknown_piece, against);
        const verdict = stand.verdict && verdictOf(facts.map((each) => ({ ...each, ...known })), day, rules);
        return { stand: { ...stand, verdict }, isOther: facts.every((each) => each.piece_revision === "other") };
      } catch {
        return { stand: { ...stand, verdict: null }, isOther: false };
      }
    });
    const own = stands.filter((each) => !each.isOther);
    return (own.length ? own : stands).map((each) => each.stand);
  }

  /** The worst of several; what cannot be judged is no better than the worst of the others, and never "Fit it".
   * @param {Stand[]} stands @returns {{ verdict: Verdict | null, differ: boolean }} */
  function worst(stands) {
    const verdicts = stands.map((stand) => stand.verdict);
    const grades = verdicts.map((verdict) => (verdict === null ? -1 : FROM_BEST_TO_WORST.indexOf(verdict)));
    const most = Math.max(...grades);
    const unclear = grades.includes(-1) && FROM_BEST_TO_WORST[most] !== "no";
    return { verdict: unclear ? null : /** @type {Verdict} */ (FROM_BEST_TO_WORST[most]), differ: new Set(verdicts).size > 1 };
  }

  /** A line for each fleet, or one for the place that a card stands on; fleets that stand alike share a line.
   * Parts labelled with an earlier revision have a line of their own. With a vehicle, only what is said of it counts; in a
   * fleet where nothing is, it is not to be fitted.
   * @param {FinderData} data @param {Stand[]} stands @param {{ fleet?: string, place?: string, vehicle?: Carried | null }} only @returns {StandLine[]} */
  function standLines(data, stands, only) {
    const fleetOf = (/** @type {Stand} */ stand) => (data.fleets[stand.fleet] || { id: "" }).id;
    const { vehicle } = only;
    const isElsewhere = vehicle && only.fleet && !vehicle.fleets.includes(only.fleet); // the page's place is not on this vehicle
    const there = only.fleet && !isElsewhere
      ? stands.filter((stand) => fleetOf(stand) === only.fleet && data.places[stand.place] === only.place)
      : stands;
    const wanted = vehicle ? there.filter((stand) => speaksOf(fleetOf(stand), stand.vehicles, vehicle)) : there;
    if (!vehicle && !wanted.length) return [{ who: "", label: null, verdict: stands.length && only.fleet ? null : "no", differ: false }];
    /** @type {Map<string, StandLine>} */
    const alike = new Map();
    for (const label of new Set(wanted.map((stand) => stand.label))) {
      for (const fleet of new Set(wanted.map(fleetOf))) {
        const group = wanted.filter((stand) => fleetOf(stand) === fleet && stand.label === label);
        if (!group.length) continue;
        const told = { label, ...worst(group) };
        const line = alike.get(JSON.stringify(told));
        const who = vehicle ? `${fleet} ${vehicle.number}` : only.fleet ? "" : fleet;
        alike.set(JSON.stringify(told), { ...told, who: line ? `${line.who}, ${who}` : who });
      }
    }
    return [...alike.values(), ...(vehicle ? unspokenLines(vehicle, wanted.map(fleetOf)) : [])];
  }

  /** @param {Carried} vehicle @param {string[]} spoken @returns {StandLine[]} */
  function unspokenLines(vehicle, spoken) {
    return unspoken(vehicle, spoken).map(({ fleets, number }) => ({ who: fleets.length ? `${fleets[0]} ${number}` : "", label: null, verdict: "no", differ: false }));
  }

  spares.judge = { ...spares.judge, groundsOf, standings, standingsOfPiece, standLines };
})();
