// Is it one of these? The parts and open requests near to a wish, by words, numbers, size and place. Pure.
//
// The finder's own ranking is asked several times: everything together and each number count whole, the words alone and
// the sizes alone a little less; the best of them counts.
(function () {
  "use strict";

  const { rank } = spares.finder;
  const LEAST = 0.5;
  const [WHOLE, PIECE] = [1, 0.85];
  const MOST = 6;

  /** @param {Index} index @param {Wish} wish @returns {NearHit[]} best first */
  function nearMatches(index, wish) {
    const number = (/** @type {Hit} */ hit) => index.records[hit.at].number;
    /** @type {Map<number, NearHit>} */
    const best = new Map();
    for (const [weight, query] of queries(wish)) {
      const ranked = rank(index, query);
      for (const hit of ranked.hits) {
        const score = weight * hit.score;
        const known = best.get(hit.at);
        if (score >= LEAST && (!known || known.score < score)) best.set(hit.at, { ...hit, score, ranked });
      }
    }
    return [...best.values()]
      .filter((hit) => !wish.without.includes(number(hit)))
      .sort((a, b) => b.score - a.score || (number(a) < number(b) ? -1 : 1))
      .slice(0, MOST);
  }

  /** @param {Wish} wish @returns {[number, string][]} */
  function queries(wish) {
    const sizes = [...wish.sizes].filter((size) => size > 0).sort((a, b) => b - a).slice(0, 3);
    const measured = sizes.length ? `${sizes.join(" x ")} mm` : "";
    /** @type {[number, string][]} */
    const asked = [];
    if (wish.name) asked.push([WHOLE, `${wish.name} ${wish.fleet} ${wish.place} ${measured}`], [PIECE, [wish.name, ...wish.words].join(" ")]);
    if (measured) asked.push([PIECE, `${wish.fleet} ${measured}`]);
    for (const number of wish.numbers) asked.push([WHOLE, number]);
    return asked;
  }

  spares.finder = { ...spares.finder, nearMatches };
})();
