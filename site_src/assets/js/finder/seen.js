// What is said of how the part looks, and which parts look otherwise? Pure.
//
// Another colour, another number of screws, or what the part has and the asked one lacks: such a part is never sure and
// stands behind those that nothing speaks against. A part whose colour or number nobody wrote down is left alone.
(function () {
  "use strict";

  const { fold, pieces, meanings, ofTheFloor } = spares.finder;

  const SAYS_MORE = 4;
  const MEANT = 0.8;
  const MOST_COUNTED = 12;
  const LONGEST_COUNTED = 3;
  const AFTER_THE_THING = /[,(]/;

  /** @param {Index} index @param {Rest[]} rest what is no size @returns {{ rest: Rest[], otherwise: Set<number>, akin: Set<number> }} what is left to find by; `akin` is as what is otherwise, without it */
  function seenOtherwise(index, rest) {
    /** @type {Set<number>} */
    const otherwise = new Set();
    const lacking = new Set(index.language.lacking.map(fold));
    /** @type {Set<Rest>} */
    const gone = new Set();
    rest.forEach((chunk, at) => {
      const word = fold(chunk.text);
      colourOtherwise(index, word, otherwise);
      const n = countOf(index, word);
      if (n) countOtherwise(index, n, rest.slice(at + 1, at + 1 + LONGEST_COUNTED), otherwise);
      if (!lacking.has(word)) return;
      gone.add(chunk);
      const lacked = rest.slice(at + 1).find((each) => !index.fillers.has(fold(each.text)));
      if (lacked && (hasWhatIsLacked(index, lacked.text, otherwise) || hasFeature(index, lacked.text, otherwise))) gone.add(lacked);
    });
    return { rest: gone.size ? rest.filter((chunk) => !gone.has(chunk)) : rest, otherwise, akin: gone.size ? akinTo(index, otherwise) : new Set() };
  }

  /** "Knob without pointer" is said where there is one with it: who shares a whole name with such a part.
   * @param {Index} index @param {Set<number>} having @returns {Set<number>} */
  function akinTo(index, having) {
    const namesOf = (/** @type {number} */ at) => [index.records[at].name, ...(index.records[at].other_names || [])].map(fold);
    const names = new Set([...having].flatMap(namesOf));
    return new Set([...index.records.keys()].filter((at) => !having.has(at) && namesOf(at).some((name) => names.has(name))));
  }

  /** The English of a word, of whatever language.
   * @param {Index} index @param {string} word */
  function english(index, word) {
    const known = index.ids.has(index.termOf(word));
    const floor = !known && index.floor.length ? ofTheFloor(index, word) : null;
    return floor && floor.sure === 1 ? floor.texts.flatMap(pieces) : [word];
  }

  /** @param {Index} index @param {string} word @param {Set<number>} otherwise */
  function colourOtherwise(index, word, otherwise) {
    const colours = new Set(index.language.colours.map(fold));
    const said = colours.has(word) ? [word] : index.floor.length ? english(index, word).map(fold) : [];
    if (!said.length || !said.every((each) => colours.has(each))) return;
    /** @type {Set<number>} */
    const same = new Set();
    for (const each of said) for (const [id, sure] of meanings(index, each, false)) if (sure >= MEANT) for (const at of index.postings[id].at) same.add(at);
    for (const each of colours) {
      const id = index.ids.get(index.termOf(each));
      for (const at of id === undefined ? [] : index.postings[id].at) if (!same.has(at) && index.records[at].looks) otherwise.add(at);
    }
  }

  /** @param {Index} index @param {string} word @returns {number} 0 where it counts nothing */
  function countOf(index, word) {
    const { counting, fillers, spoken } = index.language;
    const told = (/** @type {Record<string, number>} */ list) => (Object.prototype.hasOwnProperty.call(list, word) ? list[word] : 0);
    const n = /^\d{1,2}$/.test(word) ? Number(word) : told(counting) || (fillers.includes(word) ? 0 : told(spoken)); // "ein" is no number
    return Number.isInteger(n) && n > 0 && n <= MOST_COUNTED ? n : 0;
  }

  /** "three screws" of a part whose looks tell of two.
   * @param {Index} index @param {number} n @param {Rest[]} things @param {Set<number>} otherwise */
  function countOtherwise(index, n, things, otherwise) {
    const end = things.findIndex(({ text }) => countOf(index, fold(text)) > 0 || index.fillers.has(fold(text)));
    const terms = (end < 0 ? things : things.slice(0, end)).flatMap(({ text }) => pieces(text)).flatMap((text) => english(index, text)).map(index.termOf);
    index.counted.forEach((counted, at) => {
      const known = terms.flatMap((term) => counted.get(term) || []);
      if (known.length && !known.includes(n)) otherwise.add(at);
    });
  }

  /** What some texts count: "foot with three screws" is three of "screw".
   * @param {Index} index @param {string[]} texts @returns {Map<string, number[]>} */
  function countedIn(index, texts) {
    /** @type {Map<string, number[]>} */
    const counted = new Map();
    for (const text of texts.flatMap((each) => each.split(","))) {
      const words = pieces(text).map(fold);
      words.forEach((word, at) => {
        const n = countOf(index, word);
        if (!n) return;
        const after = words.slice(at + 1);
        const end = after.findIndex((each) => index.fillers.has(each));
        const run = end < 0 ? after.slice(0, LONGEST_COUNTED) : after.slice(0, Math.min(end, LONGEST_COUNTED));
        for (const each of run.length > 2 ? run.slice(-1) : run) counted.set(index.termOf(each), [...(counted.get(index.termOf(each)) || []), n]);
      });
    }
    return counted;
  }

  /** Parts that only look so, or are called "with" it; of what they are themselves, nothing can be lacking: "nozzle, no air".
   * @param {Index} index @param {string} lacked @param {Set<number>} otherwise @returns {boolean} whether any is so */
  function hasWhatIsLacked(index, lacked, otherwise) {
    let any = false;
    for (const word of english(index, lacked)) {
      const id = index.ids.get(index.termOf(word));
      if (id === undefined) continue;
      index.postings[id].at.forEach((at, i) => {
        if (index.postings[id].says[i] & SAYS_MORE && !isBesides(index, at, id)) return;
        otherwise.add(at);
        any = true;
      });
    }
    return any;
  }

  /** "knob without square": a part with such a feature is not meant.
   * @param {Index} index @param {string} lacked @param {Set<number>} otherwise @returns {boolean} whether any has one */
  function hasFeature(index, lacked, otherwise) {
    const said = Object.prototype.hasOwnProperty.call(index.language.features, lacked) ? index.language.features[lacked].split(" ")[0] : "";
    const having = said ? [...index.features.keys()].filter((at) => index.features[at].some((feature) => feature.kind === said)) : [];
    for (const at of having) otherwise.add(at);
    return having.length > 0;
  }

  /** "pointer" of "Heater knob with pointer".
   * @param {Index} index @param {number} at @param {number} id */
  function isBesides(index, at, id) {
    const words = pieces(index.records[at].name.split(AFTER_THE_THING)[0]);
    const end = words.findIndex((word, place) => place > 0 && index.fillers.has(fold(word)));
    return end > 0 && words.slice(end).some((word) => index.ids.get(index.termOf(word)) === id);
  }

  spares.finder = { ...spares.finder, seenOtherwise, countOf, countedIn, english };
})();
