// How well does a measured size fit a part, in any order of its axes? Pure.
(function (root) {
  "use strict";

  /** @typedef {{ mm: number, factor: number, what: string }} Dimension */

  const BEYOND = 4;

  /** What a caliper reading may differ by: a whole number was rounded, "about" was guessed.
   * Common practice, no source. @param {number} mm @param {any} size */
  function tolerance(mm, size) {
    if (size.about) return Math.max(2.5, 0.06 * mm);
    return size.exact ? 0.3 + 0.005 * mm : 0.6 + 0.008 * mm;
  }

  /** 1 where they are equal, 0.88 at the tolerance, 0 at four times it. What is worn measures small, so below the
   * nominal the tolerance is wider by half. @param {number} measured @param {number} nominal @param {any} size */
  function closeness(measured, nominal, size) {
    const allowed = tolerance(nominal, size) * (measured < nominal ? 1.5 : 1);
    const off = Math.abs(measured - nominal) / allowed;
    if (off >= BEYOND) return 0;
    return off <= 1 ? 1 - 0.12 * off : (0.88 * (BEYOND - off)) / (BEYOND - 1);
  }

  /** @param {any} sizes of a record @param {any} size asked @param {number[]} box @returns {Dimension[]} */
  function dimensions(sizes, size, box) {
    const found = box.map((mm, at) => ({ mm, factor: boxFactor(box, at, size), what: "" }));
    for (const check of sizes.checks) {
      const factor = size.round ? (check.round ? 1 : 0.8) : size.axis ? 0.9 : 0.95;
      found.push({ mm: check.mm, factor, what: check.what });
    }
    return found;
  }

  /** @param {number[]} box longest first @param {number} at @param {any} size */
  function boxFactor(box, at, size) {
    if (size.axis === "long") return at === 0 ? 1 : 0.85;
    if (size.axis === "short") return at === 2 ? 1 : 0.85;
    if (!size.round) return at === 0 ? 1 : 0.98;
    const isRound = box.some((mm, other) => other !== at && Math.abs(mm - box[at]) < 0.04 * mm);
    return isRound ? 0.98 : 0.7;
  }

  /** The best way to lay the measured values onto different dimensions of the part.
   * @param {any} sizes of a record @param {any} size asked
   * @returns {{ match: number, taken: Dimension[] }} match 0..1 */
  function sizeMatch(sizes, size) {
    let best = { match: 0, taken: /** @type {Dimension[]} */ ([]) };
    if (!size.values.length) return best;
    for (const [box, factor] of [[sizes.box, 1], [sizes.modelled, 0.97]]) {
      if (!box.length) continue;
      const laid = lay(size.values, dimensions(sizes, size, box), size);
      if (laid.match * factor > best.match) best = { match: laid.match * factor, taken: laid.taken };
    }
    if (!sizes.box.length && !sizes.modelled.length) best = lay(size.values, dimensions(sizes, size, []), size);
    return best;
  }

  /** @param {number[]} values @param {Dimension[]} pool @param {any} size */
  function lay(values, pool, size) {
    const near = values.slice(0, 3).map((value) =>
      pool.map((each, at) => ({ at, match: closeness(value, each.mm, size) * each.factor })).filter((each) => each.match > 0));
    let best = { match: 0, taken: /** @type {Dimension[]} */ ([]) };
    const used = new Set();
    const go = (/** @type {number} */ step, /** @type {number} */ sum, /** @type {number} */ least, /** @type {Dimension[]} */ taken) => {
      if (step === near.length) {
        // One value that lies beside the part spoils the whole: the mean is held down by the worst.
        const match = (sum / near.length) * (least > 0 ? 0.5 + 0.5 * least : 0.3);
        if (match > best.match) best = { match, taken };
        return;
      }
      for (const each of near[step]) {
        if (used.has(each.at)) continue;
        used.add(each.at);
        go(step + 1, sum + each.match, Math.min(least, each.match), [...taken, pool[each.at]]);
        used.delete(each.at);
      }
      go(step + 1, sum, 0, taken);
    };
    go(0, 0, 1, []);
    return best;
  }

  root.spares = Object.assign(root.spares || {}, { sizeMatch });
})(/** @type {any} */ (globalThis));
