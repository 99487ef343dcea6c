// Which words of the catalogue may a typed word mean, and how surely? Pure.
(function () {
  "use strict";

  const { fold, near, budget, keyAt } = spares.finder;

  const SPELLING = 0.97;
  const EVERYDAY = 0.62;
  const JOINED = 0.96;
  const SEGMENTS = 0.88;
  const SMALL_SLIP = 0.4;
  /** Three letters with a slip may be any word. */
  const SHORT_SLIP = 0.8;
  const SHORTEST_PREFIX = 3;
  const SHORTEST_INSIDE = 4;

  /** @typedef {{ pieces: number, cut: string, before: Segment | null }} Segment */

  /** What one typed word may mean, best guesses first by kind: the word itself, the depot's spelling of it, its
   * beginning, a compound that holds it, an everyday word for it; only where all fail, a typing slip.
   * @param {Index} index @param {string} word @param {boolean} open still being typed @returns {Meanings} */
  function meanings(index, word, open) {
    const cache = index.meant || (index.meant = new Map());
    const key = (open ? "+" : "-") + word;
    let found = cache.get(key);
    if (!found) {
      found = worked(index, word, open);
      if (cache.size > 2000) cache.clear();
      cache.set(key, found);
    }
    return found;
  }

  /** @param {Index} index @param {string} word @param {boolean} open @returns {Meanings} */
  function worked(index, word, open) {
    /** @type {Meanings} */
    const found = new Map();
    const put = (/** @type {number | undefined} */ id, /** @type {number} */ sure) => {
      if (id !== undefined && index.postings[id].at.length && (found.get(id) || 0) < sure) found.set(id, sure);
    };
    const folded = fold(word);
    const term = index.termOf(word);
    const exact = index.ids.get(term);
    if (exact !== undefined) put(exact, 1);
    for (const meant of index.spellings.get(folded) || []) put(index.ids.get(meant), SPELLING);
    const hadExact = found.size > 0;
    if (exact !== undefined) for (const other of index.everyday.get(exact) || []) put(other, EVERYDAY);
    if (folded.length >= SHORTEST_PREFIX - (open ? 1 : 0) && (open || !hadExact)) putPrefixes(index, folded, open, hadExact, put);
    if (folded.length >= SHORTEST_INSIDE) putInside(index, folded, term, hadExact, put);
    if (!found.size) putSlips(index, folded, open, put);
    return found;
  }

  /** @param {Index} index @param {string} folded @param {boolean} open @param {boolean} hadExact
   * @param {(id: number, sure: number) => void} put */
  function putPrefixes(index, folded, open, hadExact, put) {
    const sorted = index.sorted || (index.sorted = index.terms.map((text, id) => ({ text, id }))
      .sort((a, b) => (a.text < b.text ? -1 : a.text > b.text ? 1 : 0)));
    let [low, high] = [0, sorted.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle].text < folded) low = middle + 1;
      else high = middle;
    }
    for (let at = low; at < sorted.length && sorted[at].text.startsWith(folded); at += 1) {
      const share = folded.length / sorted[at].text.length;
      const sure = (open ? 0.66 : 0.5) + 0.3 * share;
      put(sorted[at].id, hadExact ? 0.75 * sure : sure);
    }
  }

  /** Compounds: "knauf" in "fensterriegelknauf".
   * @param {Index} index @param {string} folded @param {string} term
   * @param {boolean} hadExact @param {(id: number, sure: number) => void} put */
  function putInside(index, folded, term, hadExact, put) {
    const { text, starts } = index.termBlob;
    for (let found = text.indexOf(term); found >= 0; found = text.indexOf(term, found + 1)) {
      const id = keyAt(starts, found);
      const known = index.terms[id];
      if (known.length < term.length + 3) continue;
      const at = found - starts[id];
      const atEnd = at + term.length === known.length;
      const atStart = at === 0;
      if (!atEnd && !atStart && term.length < 5) continue;
      put(id, (atEnd ? 0.84 : atStart ? 0.76 : 0.62) - (hadExact ? 0.04 : 0) - (folded.length < 5 ? 0.1 : 0));
    }
  }

  /** The fewest slips first; a wider search only where the narrower finds nothing.
   * @param {Index} index @param {string} folded @param {boolean} open
   * @param {(id: number, sure: number) => void} put */
  function putSlips(index, folded, open, put) {
    const full = budget(folded.length);
    if (!full || /\d/.test(folded)) return;
    const alive = (/** @type {number} */ at) => index.postings[at].at.length || index.everyday.has(at);
    const search = (/** @type {number} */ most, /** @type {boolean} */ toBeContinued) =>
      near(folded, index.surfaces, index.masks, { most, open: toBeContinued })
        .map(({ at, cost }) => ({ id: index.surfaceIds[at], cost }))
        .filter(({ id }) => alive(id));
    for (const most of [0.5 * full, full]) {
      const hits = search(most, false);
      for (const { id, cost } of hits) {
        const sure = (0.94 - 0.36 * (cost / full)) * (folded.length < 4 ? SHORT_SLIP : 1);
        put(id, sure);
        if (cost <= SMALL_SLIP * full) for (const other of index.everyday.get(id) || []) put(other, EVERYDAY * sure);
      }
      if (hits.length) return;
    }
    const begun = open && folded.length >= 5 ? search(0.6 * full, true) : [];
    for (const { id, cost } of begun) put(id, 0.72 - 0.3 * (cost / full));
    if (!begun.length) putAlike(index, folded, put);
  }

  /** The last resort for long words: known ones that share most of their letter triples.
   * @param {Index} index @param {string} folded @param {(id: number, sure: number) => void} put */
  function putAlike(index, folded, put) {
    if (folded.length < 6) return;
    /** @type {string[]} */
    const triples = [];
    for (let at = 0; at + 3 <= folded.length; at += 1) triples.push(folded.slice(at, at + 3));
    index.surfaces.forEach((text, at) => {
      if (text.length < 6) return;
      let shared = 0;
      for (const triple of triples) if (text.includes(triple)) shared += 1;
      if (shared >= 0.6 * triples.length) put(index.surfaceIds[at], 0.25 + 0.35 * (shared / triples.length));
    });
  }

  /** A run-together word as the words it is made of, each with how surely; null where it is none.
   * @param {Index} index @param {string} word @returns {{ meanings: Meanings, text: string }[] | null} */
  function takenApart(index, word) {
    const folded = fold(word);
    if (folded.length < 6) return null;
    const key = index.joined.get(folded) || index.joined.get(index.termOf(word));
    if (key) return whole(key, JOINED, word);
    const cuts = segments(index, folded);
    if (cuts) return cuts;
    const most = 0.55 * budget(folded.length);
    const hits = near(folded, index.joinedList, index.joinedMasks, { most }).sort((a, b) => a.cost - b.cost);
    return hits.length ? whole(index.joinedAt[hits[0].at], JOINED - 0.3 * (hits[0].cost / most), word) : null;
  }

  /** @param {number[]} ids @param {number} sure @param {string} text */
  function whole(ids, sure, text) {
    return ids.map((id) => ({ meanings: new Map([[id, sure]]), text }));
  }

  /** "fensterknauf" as fenster + knauf, also with the linking letters of a language between. The fewest pieces win.
   * @param {Index} index @param {string} folded */
  function segments(index, folded) {
    /** @type {(Segment | null)[]} */
    const best = Array(folded.length + 1).fill(null);
    best[0] = { pieces: 0, cut: "", before: null };
    for (let from = 0; from <= folded.length - 3; from += 1) {
      const before = best[from];
      if (!before) continue;
      for (let to = from + 3; to <= folded.length; to += 1) {
        const cut = folded.slice(from, to);
        if (!isPiece(index, cut)) continue;
        for (const link of ["", ...index.language.links]) {
          if (!folded.startsWith(link, to)) continue;
          const end = to + link.length;
          const had = best[end];
          const worth = before.pieces + 1 + (link ? 0.2 : 0) + (cut.length < 4 ? 0.4 : 0);
          if (!had || had.pieces > worth) best[end] = { pieces: worth, cut, before };
        }
      }
    }
    const list = [];
    for (let step = best[folded.length]; step && step.before; step = step.before) list.unshift(step.cut);
    if (list.length < 2 || list.length > 4) return null;
    return list.map((cut) => ({ meanings: scaled(pieceMeanings(index, cut), SEGMENTS), text: cut }));
  }

  /** @param {Index} index @param {string} cut */
  function isPiece(index, cut) {
    return pieceMeanings(index, cut).size > 0;
  }

  /** @param {Index} index @param {string} cut @returns {Meanings} */
  function pieceMeanings(index, cut) {
    const cache = index.pieceCache || (index.pieceCache = new Map());
    let found = cache.get(cut);
    if (found) return found;
    found = new Map();
    const exact = index.ids.get(index.termOf(cut));
    if (exact !== undefined && index.postings[exact].at.length) found.set(exact, 1);
    const inside = (/** @type {string} */ text, /** @type {number} */ by) => putInside(index, text, text, false, (id, sure) => {
      if (index.postings[id].at.length && sure > 0.6 && (found.get(id) || 0) < sure * by) found.set(id, sure * by);
    });
    for (const other of exact === undefined ? [] : index.everyday.get(exact) || []) {
      if (index.postings[other].at.length) found.set(other, EVERYDAY);
      else if (index.terms[other].length >= 3) inside(index.terms[other], EVERYDAY);
    }
    if (cut.length >= 4 && !(found.get(/** @type {number} */ (exact)) === 1)) inside(index.termOf(cut), 1);
    if (cache.size > 5000) cache.clear();
    cache.set(cut, found);
    return found;
  }

  /** @param {Meanings} found @param {number} by @returns {Meanings} */
  function scaled(found, by) {
    return new Map([...found].map(([id, sure]) => [id, sure * by]));
  }

  spares.finder = { ...spares.finder, meanings, takenApart, EVERYDAY };
})();
