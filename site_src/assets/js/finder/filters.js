// Which parts pass the filters, and how many would each of their choices leave? Pure.
(function () {
  "use strict";

  /** @param {FinderData} data @param {Candidate} candidate @param {Filter} filter */
  function passes(data, candidate, filter) {
    if (filter.stock && !((candidate.record.on_shelf || 0) > 0)) return false;
    if (!filter.fleet && !filter.place && !filter.verdict) return true;
    return candidate.stands().some((stand) =>
      (!filter.fleet || (data.fleets[stand.fleet] || {}).id === filter.fleet)
      && (!filter.place || data.places[stand.place] === filter.place)
      && (!filter.verdict || stand.verdict === filter.verdict));
  }

  /** How many of the parts each choice of each filter would leave, the other filters kept.
   * @param {FinderData} data @param {Candidate[]} candidates @param {Filter} filter */
  function counts(data, candidates, filter) {
    const choices = {
      fleet: data.fleets.map((fleet) => fleet.id),
      place: [...new Set(data.places)].sort(),
      verdict: ["fit", "ask", "no"],
    };
    const stock = candidates.filter((each) => passes(data, each, { ...filter, stock: true })).length;
    /** @type {Record<string, Choice[]>} */
    const counted = {};
    for (const [name, values] of Object.entries(choices)) {
      const left = candidates.filter((each) => passes(data, each, { ...filter, [name]: "" }));
      const tally = tallied(data, left, filter, name);
      counted[name] = [{ value: "", n: left.length }, ...values.map((value) => ({ value, n: tally.get(value) || 0 }))];
    }
    return /** @type {Counts} */ (/** @type {unknown} */ ({ ...counted, stock }));
  }

  /** How many parts have each value of one filter among the stands that pass the others.
   * @param {FinderData} data @param {Candidate[]} candidates @param {Filter} filter @param {string} name */
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

  spares.finder = { ...spares.finder, passes, counts };
})();
