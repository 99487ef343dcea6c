// How well does a measured size fit a part, in any order of its axes? Pure.
(function () {
  "use strict";

  /** @typedef {{ at: number, match: number }} Near  a dimension by its index: those of the box, then the checked ones */

  const BEYOND = 3;
  const TWO_OF_THREE = 0.55;
  /** "Round" leads to what is round; what is not known to be round stays findable behind it. */
  const NOT_ROUND = 0.9;
  const NOTHING = { match: 0, taken: /** @type {number[]} */ ([]) };

  /** What a caliper reading may differ by: a whole number was rounded, "about" was guessed.
   * Common practice, no source.
   * @param {number} mm @param {Size} size */
  function tolerance(mm, size) {
    if (size.about) return Math.max(2.5, 0.06 * mm);
    return size.exact ? 0.3 + 0.005 * mm : 0.6 + 0.008 * mm;
  }

  /** 1 where they are equal, 0.88 at the tolerance, 0 at three times it. What is worn measures small, so below the
   * nominal the tolerance is wider by half.
   * @param {number} measured @param {number} nominal @param {Size} size */
  function closeness(measured, nominal, size) {
    const allowed = tolerance(nominal, size) * (measured < nominal ? 1.5 : 1);
    const off = Math.abs(measured - nominal) / allowed;
    if (off >= BEYOND) return 0;
    return off <= 1 ? 1 - 0.12 * off : (0.88 * (BEYOND - off)) / (BEYOND - 1);
  }

  /** How much a dimension of the box counts for what was asked.
   * @param {number[]} box longest first
   * @param {number} at @param {Size} size */
  function boxFactor(box, at, size) {
    if (size.axis === "long") return at === 0 ? 1 : 0.85;
    if (size.axis === "short") return at === 2 ? 1 : 0.85;
    if (!size.round || size.values.length > 1) return at === 0 ? 1 : 0.98; // of several, one is round, who knows which
    for (let other = 0; other < box.length; other += 1) {
      if (other !== at && Math.abs(box[other] - box[at]) < 0.04 * box[at]) return 0.98;
    }
    return NOT_ROUND;
  }

  /** @param {SizedCheck} check @param {Size} size */
  function checkFactor(check, size) {
    if (size.round) return check.round ? 1 : NOT_ROUND;
    return size.axis ? 0.9 : 0.95;
  }

  /** For one value, the dimensions of a part that are near it.
   * @param {number} value @param {number[]} box @param {SizedCheck[]} checks @param {Size} size @returns {Near[]} */
  function nearTo(value, box, checks, size) {
    /** @type {Near[]} */
    const found = [];
    for (let at = 0; at < box.length; at += 1) {
      const match = closeness(value, box[at], size);
      if (match > 0) found.push({ at, match: match * boxFactor(box, at, size) });
    }
    for (let at = 0; at < checks.length; at += 1) {
      const match = closeness(value, checks[at].mm, size);
      if (match > 0) found.push({ at: box.length + at, match: match * checkFactor(checks[at], size) });
    }
    return found;
  }

  /** The best way to lay the measured values onto different dimensions of the part.
   * @param {RecordSizes} sizes of a record @param {Size} size asked
   * @returns {{ match: number, taken: { mm: number, what: string }[] }} match 0..1 */
  function sizeMatch(sizes, size) {
    const oriented = laid(sizes.box, sizes.checks, size);
    const modelled = sizes.modelled.length ? laid(sizes.modelled, sizes.checks, size) : oriented;
    const better = 0.97 * modelled.match > oriented.match;
    const box = better ? sizes.modelled : sizes.box;
    const best = better ? modelled : oriented;
    return { match: better ? 0.97 * best.match : best.match, taken: best.taken.map((at) => dimension(box, sizes.checks, at)) };
  }

  /** @param {number[]} box @param {SizedCheck[]} checks @param {number} at */
  function dimension(box, checks, at) {
    return at < box.length ? { mm: box[at], what: "" } : checks[at - box.length];
  }

  /** One value that lies beside the part spoils the whole: the mean is held down by the worst.
   * @param {number[]} box @param {SizedCheck[]} checks @param {Size} size @returns {{ match: number, taken: number[] }} */
  function laid(box, checks, size) {
    const near = size.values.slice(0, 3).map((value) => nearTo(value, box, checks, size));
    if (!near.length || near.some((/** @type {Near[]} */ each) => !each.length)) return NOTHING;
    let match = 0;
    let taken = /** @type {number[]} */ ([]);
    const take = (/** @type {Near[]} */ each) => {
      let [sum, least] = [0, 1];
      for (const { match: one } of each) {
        sum += one;
        if (one < least) least = one;
      }
      const worth = (sum / each.length) * (0.5 + 0.5 * least);
      if (worth > match) {
        match = worth;
        taken = each.map(({ at }) => at);
      }
    };
    for (const a of near[0]) {
      if (near.length === 1) take([a]);
      for (const b of near[1] || []) {
        if (b.at === a.at) continue;
        if (near.length === 2) take([a, b]);
        for (const c of near[2] || []) if (c.at !== a.at && c.at !== b.at) take([a, b, c]);
      }
    }
    return { match, taken };
  }

  /** Every dimension of every record by length, so that a size is only laid onto parts that have its values.
   * @param {RecordSizes[]} sizes of all records */
  function sizeTable(sizes) {
    const mm = Float64Array.from(sizes.flatMap((each) => [...each.box, ...each.modelled, ...each.checks.map((check) => check.mm)]));
    const at = Int32Array.from(sizes.flatMap((each, of) => Array(each.box.length + each.modelled.length + each.checks.length).fill(of)));
    const order = Uint32Array.from(mm.keys()).sort((a, b) => mm[a] - mm[b]);
    return { mm: Float64Array.from(order, (i) => mm[i]), at: Int32Array.from(order, (i) => at[i]) };
  }

  /** The match of every record with a size, 0 where it lacks one of the values; of three that none has, two tell what is near.
   * @param {Index} index @param {Size} size @returns {Float32Array} */
  function sizeMatches(index, size) {
    const match = allMatches(index, size);
    if (size.values.length !== 3 || match.some((each) => each > 0)) return match;
    const pairs = size.values.map((_value, gone) => allMatches(index, { ...size, values: size.values.filter((_each, at) => at !== gone) }));
    return match.map((_each, at) => TWO_OF_THREE * Math.max(...pairs.map((pair) => pair[at])));
  }

  /** @param {Index} index @param {Size} size @returns {Float32Array} */
  function allMatches(index, size) {
    const match = new Float32Array(index.records.length);
    const having = new Uint8Array(index.records.length);
    size.values.slice(0, 3).forEach((value, step) => {
      // Wide enough for every nominal that could be near: what is worn measures small, up to 1.5 tolerances of itself.
      const far = 1.6 * BEYOND * tolerance(value, size);
      for (let i = firstFrom(index.sizeTable.mm, value - far); i < index.sizeTable.mm.length && index.sizeTable.mm[i] <= value + far; i += 1) {
        if (having[index.sizeTable.at[i]] === step) having[index.sizeTable.at[i]] = step + 1;
      }
    });
    const wanted = Math.min(3, size.values.length);
    if (!wanted) return match;
    for (let at = 0; at < match.length; at += 1) if (having[at] === wanted) match[at] = sizeMatch(index.sizes[at], size).match;
    return match;
  }

  /** @param {Float64Array} sorted @param {number} least @returns {number} index of the first that is not less */
  function firstFrom(sorted, least) {
    let [low, high] = [0, sorted.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle] < least) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  spares.finder = { ...spares.finder, sizeMatch, sizeMatches, sizeTable };
})();
