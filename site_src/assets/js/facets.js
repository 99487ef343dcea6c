// Which fleets, places and verdicts does a part have today, and how many parts has each filter? No document, no clock.
(function (root) {
  "use strict";

  const spares = root.spares;

  /** @typedef {{ fleet: number, place: number, vehicles: string[], label: string | null, verdict: string | null }} Stand
   *   how a part stands with some vehicles; verdict null where it cannot be judged */
  /** @typedef {{ fleet: string, place: string, verdict: string, stock: boolean }} Filter  "" is any */
  /** @typedef {{ record: any, stands: () => Stand[] }} Candidate */

  /** Facts as they were before finder_index.py took out what repeats. @param {any} data @param {number} at */
  function factsOf(data, at) {
    const { names, values, permits } = data.facts;
    /** @type {Record<string, any>} */
    const facts = {};
    permits[at].forEach((/** @type {number} */ value, /** @type {number} */ name) => {
      if (value >= 0) facts[names[name]] = values[value];
    });
    return facts;
  }

  /** A part's grounds with their facts. @param {any} data @param {any} record
   * @returns {{ fleet: string, place: string, label: string | null, vehicles: string[], permits: any[] }[]} */
  function groundsOf(data, record) {
    return record.grounds.map((/** @type {any} */ [fleet, place, vehicles, label, permits]) => ({
      fleet: (data.fleets[fleet] || {}).id, place: data.places[place], label, vehicles,
      permits: permits.map((/** @type {number} */ at) => factsOf(data, at)),
    }));
  }

  /** Verdicts by permits and by what is known of the copy: many parts stand alike, and each set is judged once a day. */
  let judged = { data: /** @type {any} */ (null), rules: /** @type {any} */ (null), day: "", verdicts: /** @type {Map<string, string | null>} */ (new Map()) };

  /** @param {any} data @param {number[]} permits @param {string} day @param {any} rules @param {Record<string, string>} copy
   * @returns {string | null} */
  function judge(data, permits, day, rules, copy) {
    if (judged.data !== data || judged.rules !== rules || judged.day !== day) judged = { data, rules, day, verdicts: new Map() };
    const key = `${permits.join()} ${Object.values(copy).join()}`;
    let verdict = judged.verdicts.get(key);
    if (verdict === undefined) {
      verdict = verdictOf(permits.map((at) => ({ ...factsOf(data, at), ...copy })), day, rules);
      judged.verdicts.set(key, verdict);
    }
    return verdict;
  }

  /** @param {any[]} facts @param {string} day @param {any} rules @returns {string | null} */
  function verdictOf(facts, day, rules) {
    try {
      if (facts.some((each) => each.built_on !== rules.built_on)) throw new Error("facts of another copy");
      return spares.judgedTogether(facts, day, rules.table).verdict;
    } catch {
      return null; // the page of the part says more; a list never says better than it knows
    }
  }

  /** How a part stands on a day with each group of its vehicles.
   * @param {any} data @param {any} record @param {string} day @param {any} rules @returns {Stand[]} */
  function standings(data, record, day, rules) {
    // Without anybody who knows the copy, its facts are missing, and what is missing never passes.
    const copy = spares.copyFacts ? spares.copyFacts(record.number) : {};
    return record.grounds.map((/** @type {any} */ [fleet, place, vehicles, label, permits]) => (
      { fleet, place, vehicles, label, verdict: permits.length ? judge(data, permits, day, rules, copy) : null }));
  }

  /** @param {any} data @param {Candidate} candidate @param {Filter} filter */
  function passes(data, candidate, filter) {
    if (filter.stock && !(candidate.record.on_shelf > 0)) return false;
    if (!filter.fleet && !filter.place && !filter.verdict) return true;
    return candidate.stands().some((stand) =>
      (!filter.fleet || (data.fleets[stand.fleet] || {}).id === filter.fleet)
      && (!filter.place || data.places[stand.place] === filter.place)
      && (!filter.verdict || stand.verdict === filter.verdict));
  }

  /** How many of the parts each choice of each filter would leave, the other filters kept.
   * @param {any} data @param {Candidate[]} candidates @param {Filter} filter */
  function counts(data, candidates, filter) {
    const choices = {
      fleet: data.fleets.map((/** @type {any} */ fleet) => fleet.id),
      place: [...new Set(data.places)].sort(),
      verdict: ["fit", "ask", "no"],
    };
    /** @type {Record<string, any>} */
    const counted = { stock: candidates.filter((each) => passes(data, each, { ...filter, stock: true })).length };
    for (const [name, values] of Object.entries(choices)) {
      const left = candidates.filter((each) => passes(data, each, { ...filter, [name]: "" }));
      const tally = tallied(data, left, filter, name);
      counted[name] = [{ value: "", n: left.length }, ...values.map((/** @type {string} */ value) => ({ value, n: tally.get(value) || 0 }))];
    }
    return counted;
  }

  /** How many parts have each value of one filter among the stands that pass the others.
   * @param {any} data @param {Candidate[]} candidates @param {Filter} filter @param {string} name */
  function tallied(data, candidates, filter, name) {
    /** @type {Map<string, number>} */
    const tally = new Map();
    for (const { stands } of candidates) {
      const values = new Set();
      for (const stand of stands()) {
        /** @type {Record<string, string | null>} */
        const has = { fleet: (data.fleets[stand.fleet] || {}).id, place: data.places[stand.place], verdict: stand.verdict };
        const others = Object.keys(has).filter((other) => other !== name);
        if (others.every((other) => !filter[/** @type {"fleet"} */ (other)] || has[other] === filter[/** @type {"fleet"} */ (other)])) values.add(has[name]);
      }
      for (const value of values) tally.set(value, (tally.get(value) || 0) + 1);
    }
    return tally;
  }

  root.spares = Object.assign(root.spares || {}, { groundsOf, standings, passes, counts });
})(/** @type {any} */ (globalThis));
