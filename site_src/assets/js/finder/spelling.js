// How far is a mistyped word from a known one, and which known ones are near? Pure.
(function () {
  "use strict";

  const KEYBOARD = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];
  const VOWELS = "aeiouy";
  const DOUBLED = 0.4;
  const SWAPPED = 0.6;
  const LOOKALIKE = ["0o", "1il", "5s", "8b", "cks", "sz", "vw", "fp", "gj", "td"];

  const LETTERS = 128;

  /** What it costs to read one letter for another, by character codes: a neighbouring key or a look-alike less than any
   * other, and so a vowel for a vowel. Beyond ASCII every other letter costs 1. */
  const MISREAD = new Float64Array(LETTERS * LETTERS).fill(1);
  const IS_VOWEL = new Uint8Array(LETTERS);

  /** @param {string} one @param {string} other @param {number} cost */
  function priced(one, other, cost) {
    MISREAD[one.charCodeAt(0) * LETTERS + other.charCodeAt(0)] = cost;
    MISREAD[other.charCodeAt(0) * LETTERS + one.charCodeAt(0)] = cost;
  }
  for (const one of VOWELS) {
    IS_VOWEL[one.charCodeAt(0)] = 1;
    for (const other of VOWELS) priced(one, other, 0.6);
  }
  KEYBOARD.forEach((row, at) => {
    for (let i = 0; i < row.length; i += 1) {
      const near = [row[i + 1], ...(KEYBOARD[at + 1] ? [KEYBOARD[at + 1][i], KEYBOARD[at + 1][i - 1]] : [])];
      for (const other of near.filter(Boolean)) priced(row[i], other, 0.7);
    }
  });
  for (const group of LOOKALIKE) {
    for (const one of group) for (const other of group) priced(one, other, 0.7);
  }
  for (let code = 0; code < LETTERS; code += 1) MISREAD[code * LETTERS + code] = 0;

  /** @param {number} one @param {number} other */
  function misread(one, other) {
    if (one === other) return 0;
    return one < LETTERS && other < LETTERS ? MISREAD[one * LETTERS + other] : 1;
  }

  /** What a letter too many or too few costs: less than half where it doubles its neighbour, a little less for a vowel.
   * @param {string} word @param {number} at */
  function stray(word, at) {
    const code = word.charCodeAt(at);
    if (code === word.charCodeAt(at - 1) || code === word.charCodeAt(at + 1)) return DOUBLED;
    return code < LETTERS && IS_VOWEL[code] ? 0.7 : 0.9;
  }

  let rows = [new Float64Array(64), new Float64Array(64), new Float64Array(64)];
  let strays = new Float64Array(64);

  /** Weighted edit distance with neighbouring letters swapped (optimal string alignment); above `most` it may be
   * any number above `most`. With `open`, letters after the end of `typed` cost nothing: it is still being typed.
   * @param {string} typed @param {string} known @param {number} most @param {boolean} [open] @returns {number} */
  function distance(typed, known, most, open) {
    const [n, m] = [typed.length, known.length];
    if (m >= strays.length) {
      rows = rows.map(() => new Float64Array(2 * m));
      strays = new Float64Array(2 * m);
    }
    let [before, last, next] = rows;
    const band = Math.ceil(most / DOUBLED);
    last[0] = 0;
    for (let j = 1; j <= m; j += 1) {
      strays[j] = stray(known, j - 1);
      last[j] = last[j - 1] + strays[j];
    }
    for (let i = 1; i <= n; i += 1) {
      const code = typed.charCodeAt(i - 1);
      const extra = stray(typed, i - 1);
      const from = Math.max(1, i - band);
      const to = Math.min(m, i + band);
      next[0] = last[0] + extra;
      let least = from === 1 ? next[0] : Infinity;
      if (from > 1) next[from - 1] = Infinity;
      for (let j = from; j <= to; j += 1) {
        let cost = last[j - 1] + misread(code, known.charCodeAt(j - 1));
        if (last[j] + extra < cost) cost = last[j] + extra;
        if (next[j - 1] + strays[j] < cost) cost = next[j - 1] + strays[j];
        if (i > 1 && j > 1 && code === known.charCodeAt(j - 2) && typed.charCodeAt(i - 2) === known.charCodeAt(j - 1)
          && before[j - 2] + SWAPPED < cost) cost = before[j - 2] + SWAPPED;
        next[j] = cost;
        if (cost < least) least = cost;
      }
      for (let j = to + 1; j <= Math.min(m, to + 2); j += 1) next[j] = Infinity;
      if (least > most) return least;
      [before, last, next] = [last, next, before];
    }
    if (!open) return last[m];
    let least = Infinity;
    for (let j = Math.max(0, n - band); j <= Math.min(m, n + band); j += 1) if (last[j] < least) least = last[j];
    return least;
  }

  /** How much may be wrong with a word of this length before it is another word.
   * @param {number} length */
  function budget(length) {
    if (length <= 2) return 0;
    if (length === 3) return 0.9;
    return Math.min(3, length === 4 ? 1 : 0.28 * length);
  }

  /** Which letters a word has, one bit each: words whose letters differ much cannot be near.
   * @param {string} word @returns {number} */
  function letterMask(word) {
    let mask = 0;
    for (let i = 0; i < word.length; i += 1) {
      const code = word.charCodeAt(i);
      mask |= 1 << (code >= 97 && code <= 122 ? code - 97 : 26 + (code % 5));
    }
    return mask;
  }

  /** @param {number} bits @returns {number} how many bits are set */
  function count(bits) {
    let left = bits - ((bits >>> 1) & 0x55555555);
    left = (left & 0x33333333) + ((left >>> 2) & 0x33333333);
    return (((left + (left >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
  }

  /** Known words near a typed one, each with its distance.
   * @param {string} typed @param {string[]} known @param {Int32Array} masks of the known words
   * @param {{ open?: boolean, most?: number }} [how] @returns {{ at: number, cost: number }[]} */
  function near(typed, known, masks, how = {}) {
    const most = how.most === undefined ? budget(typed.length) : how.most;
    const mask = letterMask(typed);
    const steps = Math.floor(most / DOUBLED);
    // A letter that only one of the two words has costs at least as much as the cheapest misreading.
    const letters = Math.floor(most / 0.6 + 1e-9);
    /** @type {{ at: number, cost: number }[]} */
    const found = [];
    if (most <= 0) return found;
    for (let at = 0; at < known.length; at += 1) {
      if (count(mask & ~masks[at]) > letters) continue;
      if (!how.open && count(masks[at] & ~mask) > letters) continue;
      const longer = known[at].length - typed.length;
      if (longer < -steps || (!how.open && longer > steps)) continue;
      const cost = distance(typed, known[at], most, how.open);
      if (cost <= most) found.push({ at, cost });
    }
    return found;
  }

  spares.finder = { ...spares.finder, distance, budget, letterMask, near };
})();
