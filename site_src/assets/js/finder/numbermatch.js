// Which parts have this number, or a piece of it, or one nearly like it? Pure.
(function () {
  "use strict";

  const { distance, numberKey, pieces, plain, shortNumberKey } = spares.finder;
  const KIND_FACTOR = { own: 1, assembly: 0.93 };
  const OTHER_KIND = 0.96;
  const NEARLY = 0.55;
  const MOST_TRIED = 400;
  /** A run of fewer digits is no piece of a longer group: "413" is not in 4-131-0705, nor "709" in S/70915. */
  const FEW_DIGITS = /^\d{3}$/;

  /** All keys in one text, so that one search goes through them at machine speed.
   * @param {string[]} keys */
  function blobOf(keys) {
    const starts = new Int32Array(keys.length);
    let length = 1;
    keys.forEach((key, at) => {
      starts[at] = length;
      length += key.length + 1;
    });
    return { text: `\n${keys.join("\n")}\n`, starts };
  }

  /** @param {Int32Array} starts @param {number} position @returns {number} which key lies there */
  function keyAt(starts, position) {
    let [low, high] = [0, starts.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle] <= position) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** What searching by number needs, made once.
   * @param {KnownNumber[]} numbers */
  function numberTable(numbers) {
    const letters = numbers.flatMap((each) => pieces(plain(each.text)).flatMap((piece) => piece.match(/[a-z]+/g) || []));
    return { key: blobOf(numbers.map((each) => each.key)), short: blobOf(numbers.map((each) => each.short)), letters: new Set(letters) };
  }

  /** Numbers with a sign where the asked one has "?", which nobody could read; sure where only one part has such a number.
   * @param {Index} index @param {string} asked @returns {Map<number, NumberHit>} */
  function unreadNumbers(index, asked) {
    /** @type {Map<number, NumberHit>} */
    const found = new Map();
    const pattern = new RegExp(`${asked.split("?").map(numberKey).join("[0-9a-z]")}$`);
    for (const number of index.numbers) if (pattern.test(number.key)) keep(found, number, 1);
    if (found.size > 1) for (const hit of found.values()) hit.match *= NEARLY;
    return found;
  }

  /** Every number that holds the asked one, whole or in part.
   * @param {Index} index @param {string} asked as typed
   * @returns {Map<number, NumberHit>} by record; match 0..1 */
  function numberMatches(index, asked) {
    /** @type {Map<number, NumberHit>} */
    const found = new Map();
    const { key, short } = index.numberTable;
    const whole = numberKey(asked);
    collect(index, key, whole, "key", 0, found, asked);
    const brief = shortNumberKey(asked);
    if (brief !== whole || brief.length > 2) collect(index, short, brief, "short", 0.02, found, asked);
    if (FEW_DIGITS.test(asked)) for (const [at, { number }] of found) if (!hasGroup(number, Number(asked))) found.delete(at);
    return found;
  }

  /** Whether digits that stand together in a number are these, but for zeros before them.
   * @param {KnownNumber} number @param {number} asked */
  function hasGroup(number, asked) {
    return (number.text.match(/\d+/g) || []).some((digits) => Number(digits) === asked);
  }

  /** @param {Index} index @param {TextBlob} blob @param {string} asked @param {"key" | "short"} form @param {number} less
   * @param {Map<number, NumberHit>} found @param {string} typed what `asked` is the key of */
  function collect(index, blob, asked, form, less, found, typed) {
    if (asked.length < 2) return;
    for (let at = blob.text.indexOf(asked); at >= 0; at = blob.text.indexOf(asked, at + 1)) {
      const number = index.numbers[keyAt(blob.starts, at)];
      const before = blob.text[at - 1] === "\n";
      const after = blob.text[at + asked.length] === "\n";
      // "117-0417" is not "117.417 b": a zero that was read is there.
      const hasMore = form === "short" && numberKey(typed).length > number.key.length - (after ? 0 : 1);
      const isToItsEnd = after || (/[a-z]$/i.test(number.text) && blob.text[at + asked.length + 1] === "\n");
      keep(found, number, pieceMatch(asked.length, number[form].length, before, after) - less, isToItsEnd && !hasMore && (before || isFromItsDigits(blob, at, number)));
    }
  }

  /** "0417" for "TV-0417": nothing is missing but the letters that many numbers begin with.
   * @param {TextBlob} blob @param {number} at @param {KnownNumber} number */
  function isFromItsDigits(blob, at, number) {
    const letters = (/^[a-z]{1,3}(?![a-z])/i.exec(number.text) || [""])[0].length;
    return letters > 0 && at - letters === blob.text.lastIndexOf("\n", at) + 1;
  }

  /** 1 for the whole number; the more of it and the nearer to an end, the better; two signs say little.
   * @param {number} asked @param {number} whole @param {boolean} before @param {boolean} after */
  function pieceMatch(asked, whole, before, after) {
    const share = asked / whole;
    if (before && after) return 1;
    if (asked < 3) return after ? 0.42 : 0.35;
    if (after) return 0.86 + 0.1 * share;
    return before ? 0.82 + 0.1 * share : 0.66 + 0.2 * share;
  }

  /** Numbers one or two slips away; never as good as a piece that is right.
   * @param {Index} index @param {string} asked @returns {Map<number, NumberHit>} */
  function nearNumbers(index, asked) {
    /** @type {Map<number, NumberHit>} */
    const found = new Map();
    for (const [form, key] of /** @type {["key" | "short", string][]} */ ([["key", numberKey(asked)], ["short", shortNumberKey(asked)]])) {
      if (key.length < 4) continue;
      const most = key.length >= 8 ? 2 : key.length > 4 ? 1 : 0;
      for (const swapped of swaps(key)) {
        const hits = new Map();
        collect(index, index.numberTable[form], swapped, form, 0, hits, asked);
        for (const { match, number } of hits.values()) keep(found, number, match - 1 + NEARLY);
      }
      for (const number of suspects(index, key, form, most)) {
        const known = number[form];
        const pieces = [known, known.slice(-key.length), known.slice(0, key.length), known.slice(-key.length - 1), known.slice(1 - key.length)];
        const cost = Math.min(...pieces.map((piece) => distance(key, piece, most)));
        if (cost <= most) keep(found, number, NEARLY - 0.12 * cost + 0.04 * (key.length / known.length));
      }
    }
    return found;
  }

  /** The key with each two neighbours swapped once.
   * @param {string} key */
  function swaps(key) {
    const found = [];
    for (let at = 0; at + 1 < key.length; at += 1) {
      if (key[at] !== key[at + 1]) found.push(key.slice(0, at) + key[at + 1] + key[at] + key.slice(at + 2));
    }
    return found;
  }

  /** With at most n slips, one of n + 1 pieces of the number is right: only numbers with such a piece are tried.
   * @param {Index} index @param {string} key @param {"key" | "short"} form @param {number} slips */
  function suspects(index, key, form, slips) {
    const blob = index.numberTable[form];
    const tried = new Set();
    for (let part = 0; part <= slips; part += 1) {
      const piece = key.slice(Math.floor((part * key.length) / (slips + 1)), Math.floor(((part + 1) * key.length) / (slips + 1)));
      let left = MOST_TRIED;
      for (let at = blob.text.indexOf(piece); at >= 0 && left > 0; at = blob.text.indexOf(piece, at + 1)) {
        tried.add(index.numbers[keyAt(blob.starts, at)]);
        left -= 1;
      }
    }
    return tried;
  }

  /** @param {Map<number, NumberHit>} found @param {KnownNumber} number @param {number} match
   * @param {boolean} [isWhole] from its beginning to its end, but for a last letter */
  function keep(found, number, match, isWhole = false) {
    const worth = match * (KIND_FACTOR[/** @type {keyof typeof KIND_FACTOR} */ (number.kind)] || OTHER_KIND);
    const before = found.get(number.at);
    if (!before || (before.isWhole === isWhole ? before.match < worth : isWhole)) found.set(number.at, { match: worth, number, isWhole });
  }

  spares.finder = { ...spares.finder, numberMatches, nearNumbers, unreadNumbers, numberTable, blobOf, keyAt };
})();
