// How far is a mistyped word from a known one, and which known ones are near? Pure.
(function (root) {
  "use strict";

  const KEYBOARD = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];
  const VOWELS = "aeiouy";
  const LOOKALIKE = ["0o", "1il", "5s", "8b", "cks", "sz", "vw", "fp", "gj", "td"];

  /** Letters that a glove hits together. @type {Set<string>} */
  const NEIGHBOURS = new Set();
  KEYBOARD.forEach((row, at) => {
    for (let i = 0; i < row.length; i += 1) {
      const near = [row[i + 1], ...(KEYBOARD[at + 1] ? [KEYBOARD[at + 1][i], KEYBOARD[at + 1][i - 1]] : [])];
      for (const other of near.filter(Boolean)) NEIGHBOURS.add(row[i] + other).add(other + row[i]);
    }
  });
  for (const group of LOOKALIKE) {
    for (const one of group) for (const other of group) if (one !== other) NEIGHBOURS.add(one + other);
  }

  /** What it costs to read one letter for another: a neighbouring key or another vowel less than any other.
   * @param {string} one @param {string} other */
  function misread(one, other) {
    if (one === other) return 0;
    if (NEIGHBOURS.has(one + other)) return 0.7;
    return VOWELS.includes(one) && VOWELS.includes(other) ? 0.6 : 1;
  }

  /** What a letter too many or too few costs: half where it doubles its neighbour, a little less for a vowel.
   * @param {string} word @param {number} at */
  function stray(word, at) {
    const letter = word[at];
    if (letter === word[at - 1] || letter === word[at + 1]) return 0.4;
    return VOWELS.includes(letter) ? 0.7 : 0.9;
  }

  let rows = [new Float64Array(64), new Float64Array(64), new Float64Array(64)];

  /** Weighted edit distance with neighbouring letters swapped (optimal string alignment); above `most` it may be
   * any number above `most`. With `open`, letters after the end of `typed` cost nothing: it is still being typed.
   * @param {string} typed @param {string} known @param {number} most @param {boolean} [open] @returns {number} */
  function distance(typed, known, most, open) {
    const [n, m] = [typed.length, known.length];
    if (m >= rows[0].length) rows = rows.map(() => new Float64Array(2 * m));
    let [before, last, next] = rows;
    last[0] = 0;
    for (let j = 1; j <= m; j += 1) last[j] = last[j - 1] + stray(known, j - 1);
    for (let i = 1; i <= n; i += 1) {
      const extra = stray(typed, i - 1);
      next[0] = last[0] + extra;
      let least = next[0];
      for (let j = 1; j <= m; j += 1) {
        let cost = last[j - 1] + misread(typed[i - 1], known[j - 1]);
        cost = Math.min(cost, last[j] + extra, next[j - 1] + stray(known, j - 1));
        if (i > 1 && j > 1 && typed[i - 1] === known[j - 2] && typed[i - 2] === known[j - 1]) {
          cost = Math.min(cost, before[j - 2] + 0.6);
        }
        next[j] = cost;
        if (cost < least) least = cost;
      }
      if (least > most) return least;
      [before, last, next] = [last, next, before];
    }
    if (!open) return last[m];
    let least = last[m];
    for (let j = Math.max(0, n - 1); j <= m; j += 1) if (last[j] < least) least = last[j];
    return least;
  }

  /** How much may be wrong with a word of this length before it is another word. @param {number} length */
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
    const steps = Math.floor(most / 0.4);
    const letters = Math.ceil(most / 0.6);
    const found = [];
    if (most <= 0) return found;
    for (let at = 0; at < known.length; at += 1) {
      const differs = how.open ? mask & ~masks[at] : mask ^ masks[at];
      if (count(differs) > 2 * letters) continue;
      const word = known[at];
      const longer = word.length - typed.length;
      if (longer < -steps || (!how.open && longer > steps)) continue;
      const cost = distance(typed, word, most, how.open);
      if (cost <= most) found.push({ at, cost });
    }
    return found;
  }

  root.spares = Object.assign(root.spares || {}, { distance, budget, letterMask, near });
})(/** @type {any} */ (globalThis));
