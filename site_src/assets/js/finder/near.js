// Is it one of these? The parts and open requests near to what is typed, by words, size and place. Pure.
//
// The finder's own ranking is asked several times, as in generator/finder/near.py: everything together and each
// number count whole, the words alone and the sizes alone a little less; the best of them counts.
(function () {
  "use strict";

  const LEAST = 0.5;
  const [WHOLE, PIECE] = [1, 0.85];
  const MOST = 6;

  /** @param {any} index @param {{ name: string, fleet: string, place: string, sizes: number[], numbers: string[] }} wish
   *   place: its name @returns {{ at: number, score: number, sure: boolean, ranked: any }[]} best first */
  function nearMatches(index, wish) {
    const best = new Map();
    for (const [weight, query] of queries(wish)) {
      const ranked = spares.finder.rank(index, query);
      for (const hit of ranked.hits) {
        const score = weight * hit.score;
        const known = best.get(hit.at);
        if (score >= LEAST && (!known || known.score < score)) best.set(hit.at, { ...hit, score, ranked });
      }
    }
    const number = (/** @type {any} */ hit) => index.records[hit.at].number;
    return [...best.values()].sort((a, b) => b.score - a.score || (number(a) < number(b) ? -1 : 1)).slice(0, MOST);
  }

  /** @param {{ name: string, fleet: string, place: string, sizes: number[], numbers: string[] }} wish @returns {[number, string][]} */
  function queries(wish) {
    const sizes = [...wish.sizes].filter((size) => size > 0).sort((a, b) => b - a).slice(0, 3);
    const measured = sizes.length ? `${sizes.join(" x ")} mm` : "";
    /** @type {[number, string][]} */
    const asked = [];
    if (wish.name) asked.push([WHOLE, `${wish.name} ${wish.fleet} ${wish.place} ${measured}`], [PIECE, wish.name]);
    if (measured) asked.push([PIECE, `${wish.fleet} ${measured}`]);
    for (const number of wish.numbers) asked.push([WHOLE, number]);
    return asked;
  }

  spares.finder = { ...spares.finder, nearMatches };
})();
