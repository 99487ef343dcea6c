// Which fleets, places and verdicts does a part have today, and how many parts has each filter? No document, no clock.
(function (root) {
  "use strict";

  const spares = root.spares;

  /** @typedef {{ fleet: number, place: number, vehicles: string[], label: string | null, verdict: string | null }} Stand
   *   how a part stands with some vehicles; verdict null where it cannot be judged */
  /** @typedef {{ fleet: string, place: string, verdict: string, stock: boolean }} Filter  "" is any */

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

  /** How a part stands on a day with each group of its vehicles.
   * @param {any} data @param {any} record @param {string} day @param {any} rules @returns {Stand[]} */
  function standings(data, record, day, rules) {
    return record.grounds.map((/** @type {any} */ [fleet, place, vehicles, label, permits]) => {
      let verdict = null;
      try {
        const facts = permits.map((/** @type {number} */ at) => factsOf(data, at));
        if (facts.some((/** @type {any} */ each) => each.built_on !== rules.built_on)) throw new Error("another build");
        verdict = spares.bestJudged(facts, day, rules.table).verdict;
      } catch {
        verdict = null; // the page of the part says more; a list never says better than it knows
      }
      return { fleet, place, vehicles, label, verdict };
    });
  }

  /** @param {any} data @param {any} record @param {Stand[]} stands @param {Filter} filter */
  function passes(data, record, stands, filter) {
    if (filter.stock && !(record.on_shelf > 0)) return false;
    if (!filter.fleet && !filter.place && !filter.verdict) return true;
    return stands.some((stand) =>
      (!filter.fleet || (data.fleets[stand.fleet] || {}).id === filter.fleet)
      && (!filter.place || data.places[stand.place] === filter.place)
      && (!filter.verdict || stand.verdict === filter.verdict));
  }

  /** How many of these parts each choice of each filter would leave, the other filters kept.
   * @param {any} data @param {{ record: any, stands: Stand[] }[]} found @param {Filter} filter */
  function counts(data, found, filter) {
    const choices = {
      fleet: data.fleets.map((/** @type {any} */ fleet) => fleet.id),
      place: [...new Set(data.places)].sort(),
      verdict: ["fit", "ask", "no"],
    };
    const count = (/** @type {Filter} */ other) => found.filter((each) => passes(data, each.record, each.stands, other)).length;
    const counted = Object.entries(choices).map(([name, values]) => [name, [
      { value: "", n: count({ ...filter, [name]: "" }) },
      ...values.map((/** @type {string} */ value) => ({ value, n: count({ ...filter, [name]: value }) })),
    ]]);
    return { ...Object.fromEntries(counted), stock: count({ ...filter, stock: true }) };
  }

  root.spares = Object.assign(root.spares || {}, { standings, passes, counts });
})(/** @type {any} */ (globalThis));
