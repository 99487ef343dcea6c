// What does a word of another language of the floor mean in the catalogue's words? "Fensterknauf" is window + knob. Pure.
(function () {
  "use strict";

  const { fold, near, budget, letterMask, meanings } = spares.finder;

  /** Several English words for one are a little less sure each. */
  const TRANSLATED = 0.96;
  const SHORTEST_PIECE = 3;
  const MOST_PIECES = 5;
  const MOST_READ = 2000;
  const LEAST_END = 4;
  const SLIPS = 0.6;
  const SLIPPED = 0.86;
  /** A slip in one word of a compound finds, and makes nothing sure. */
  const SLIPPED_WITHIN = 0.62;

  /** @param {FloorWords[]} floor of the data @returns {Lexicon[]} */
  function lexicons(floor) {
    return floor.map(({ means, links, endings }) => {
      /** @type {Map<string, string>} */
      const known = new Map();
      for (const [word, english] of Object.entries(means)) known.set(fold(word), english);
      const words = [...known.keys()];
      return { known, links: ["", ...links.map(fold)], endings: endings.map(fold), words, masks: Int32Array.from(words, letterMask), read: new Map() };
    });
  }

  /** The English of a word, one text for each word that it is made of; null where no language knows it.
   * @param {Index} index @param {string} word @param {boolean} [isOfFloor] other words are of a floor language
   * @returns {{ texts: string[], sure: number, isWhole: boolean } | null} */
  function ofTheFloor(index, word, isOfFloor = false) {
    const cache = index.floorRead || (index.floorRead = new Map());
    const key = (isOfFloor ? "+" : "-") + word;
    if (!cache.has(key)) {
      if (cache.size > MOST_READ) cache.clear();
      cache.set(key, readOnFloor(index, word, isOfFloor));
    }
    return cache.get(key) || null;
  }

  /** @param {Index} index @param {string} word @param {boolean} isOfFloor @returns {{ texts: string[], sure: number, isWhole: boolean } | null} */
  function readOnFloor(index, word, isOfFloor) {
    const folded = fold(word);
    for (const lexicon of index.floor) {
      const whole = entry(lexicon, folded);
      if (whole) return { texts: [whole], sure: 1, isWhole: true };
    }
    if (folded.length < 2 * SHORTEST_PIECE || /\d/.test(folded)) return null;
    const cut = cheapest(index, folded) || cheapest(index, word.toLowerCase()); // "rolloende": here "oe" is no "ö"
    return cut ? { texts: cut, sure: 1, isWhole: false } : slipped(index, folded, isOfFloor) || ends(index, folded) || slippedWithin(index, folded);
  }

  /** @param {Index} index @param {string} text @returns {string[] | null} */
  function cheapest(index, text) {
    /** @type {Cut | null} */
    let best = null;
    for (const lexicon of index.floor) {
      const cut = apart(index, lexicon, text);
      if (cut && (!best || cut.cost < best.cost)) best = cut;
    }
    return best && best.texts;
  }

  /** A compound with something unknown in it: its known beginning and end, the rest as it stands.
   * @param {Index} index @param {string} folded @returns {{ texts: string[], sure: number, isWhole: boolean } | null} */
  function ends(index, folded) {
    for (const lexicon of index.floor) {
      for (let to = folded.length - LEAST_END; to >= LEAST_END; to -= 1) {
        const first = lexicon.known.get(folded.slice(0, to));
        if (!first) continue;
        for (let from = to + 1; from <= folded.length - LEAST_END; from += 1) {
          const last = entry(lexicon, folded.slice(from));
          if (last) return { texts: [first, folded.slice(to, from), last], sure: 1, isWhole: false };
        }
      }
    }
    return null;
  }

  /** @param {Lexicon} lexicon @param {string} word with or without an ending of its language */
  function entry(lexicon, word) {
    const found = lexicon.known.get(word);
    if (found || word.length < 5) return found;
    for (const ending of lexicon.endings) {
      const bare = word.endsWith(ending) && word.length - ending.length >= 4 ? lexicon.known.get(word.slice(0, -ending.length)) : undefined;
      if (bare) return bare;
    }
    return undefined;
  }

  /** @param {Index} index @param {string} folded @param {boolean} isOfFloor then its endings may be taken off first
   * @returns {{ texts: string[], sure: number, isWhole: boolean } | null} */
  function slipped(index, folded, isOfFloor) {
    let least = Infinity;
    let best = "";
    for (const lexicon of index.floor) {
      const bare = isOfFloor ? lexicon.endings.filter((ending) => folded.endsWith(ending) && folded.length - ending.length >= LEAST_END) : [];
      for (const text of [folded, ...bare.map((ending) => folded.slice(0, -ending.length))]) {
        for (const { at, cost } of near(text, lexicon.words, lexicon.masks, { most: SLIPS * budget(text.length) })) {
          if (cost < least) [least, best] = [cost, String(lexicon.known.get(lexicon.words[at]))];
        }
      }
    }
    return best ? { texts: [best], sure: SLIPPED, isWhole: false } : null;
  }

  /** A compound with a slip in its last or in its first word: "sandkasten|dekel", "fenstr|knopf".
   * @param {Index} index @param {string} folded @returns {{ texts: string[], sure: number, isWhole: boolean } | null} */
  function slippedWithin(index, folded) {
    let least = Infinity;
    /** @type {string[]} */
    let best = [];
    for (const lexicon of index.floor) {
      for (let to = LEAST_END; to <= folded.length - LEAST_END; to += 1) {
        for (const [known, other] of [[folded.slice(0, to), folded.slice(to)], [folded.slice(to), folded.slice(0, to)]]) {
          const whole = known.length > LEAST_END ? entry(lexicon, known) : undefined;
          if (!whole) continue;
          for (const { at, cost } of near(other, lexicon.words, lexicon.masks, { most: budget(other.length) })) {
            if (cost - known.length >= least) continue; // the longer what is known, the better
            least = cost - known.length;
            const slip = String(lexicon.known.get(lexicon.words[at]));
            best = folded.startsWith(known) ? [whole, slip] : [slip, whole];
          }
        }
      }
    }
    return best.length ? { texts: best, sure: SLIPPED_WITHIN, isWhole: false } : null;
  }

  /** The words of a compound, the fewest and longest; each is one of the language, or one that the catalogue writes so, too.
   * @param {Index} index @param {Lexicon} lexicon @param {string} folded @returns {Cut | null} */
  function apart(index, lexicon, folded) {
    if (lexicon.read.has(folded)) return lexicon.read.get(folded) || null;
    /** @type {(Cut | null)[]} */
    const best = Array(folded.length + 1).fill(null);
    best[0] = { cost: 0, own: 0, texts: [] };
    for (let from = 0; from <= folded.length - SHORTEST_PIECE; from += 1) {
      const before = best[from];
      if (!before || before.texts.length === MOST_PIECES) continue;
      for (let to = from + SHORTEST_PIECE; to <= folded.length; to += 1) {
        const cut = folded.slice(from, to);
        const own = to === folded.length ? entry(lexicon, cut) : lexicon.known.get(cut);
        const text = own || (cut.length > 3 && isOurs(index, cut) ? cut : "");
        if (!text) continue;
        for (const link of lexicon.links) {
          const end = to + link.length;
          if (!folded.startsWith(link, to) || (link && end === folded.length)) continue;
          const made = { cost: before.cost + 1 + (link ? 0.2 : 0) + (own ? 0 : 0.5), own: before.own + (own ? 1 : 0), texts: [...before.texts, text] };
          const had = best[end];
          if (!had || made.cost < had.cost) best[end] = made;
        }
      }
    }
    const whole = best[folded.length];
    const found = whole && whole.own > 0 ? whole : null;
    if (lexicon.read.size > 2000) lexicon.read.clear();
    lexicon.read.set(folded, found);
    return found;
  }

  /** @param {Index} index @param {string} word */
  function isOurs(index, word) {
    const id = index.ids.get(index.termOf(word));
    return id !== undefined && index.postings[id].at.length > 0;
  }

  /** What a text of English words may mean: several with commas are one word, without they follow each other.
   * @param {Index} index @param {string} english @param {number} sure @returns {{ text: string, meanings: Meanings }[]} */
  function translated(index, english, sure) {
    if (!english.includes(",")) return english.split(" ").map((text) => ({ text, meanings: scaled(meanings(index, text, false), sure) }));
    /** @type {Meanings} */
    const all = new Map();
    for (const word of english.split(/[, ]+/)) {
      for (const [id, one] of meanings(index, word, false)) if ((all.get(id) || 0) < one * sure * TRANSLATED) all.set(id, one * sure * TRANSLATED);
    }
    return [{ text: english, meanings: all }];
  }

  /** @param {Meanings} found @param {number} by @returns {Meanings} */
  function scaled(found, by) {
    return by === 1 ? found : new Map([...found].map(([id, sure]) => [id, sure * by]));
  }

  spares.finder = { ...spares.finder, lexicons, ofTheFloor, translated };
})();
