// What does each word of a query mean, and how well does every part answer it? Pure.
//
// Words weigh by how few parts they fit (inverse frequency); what no part has weighs full and matches nothing.
(function () {
  "use strict";

  const { fold, meanings, takenApart, ofTheFloor, translated, MEANT, EVERYDAY, SAYS_KIND, SAYS_LIKE, SAYS_SO } = spares.finder;

  const HAND = 0.1;
  /** An everyday word, of another language, too. */
  const A_WORD = 0.59;
  const UNKNOWN_WORD = 0.9;
  const WEAKLY_KNOWN = 0.75;
  const WORD_MET = 0.5;
  /** From here on a word is surely one of the catalogue's own. */
  const SURELY_OURS = 0.95;
  /** What a word is worth in a place, see index.js. */
  const PLACE_AT_BEST = Math.fround(0.7);

  /** A hand tells two parts apart and finds none: "heater knob left" is no left mirror.
   * @param {Item[]} words */
  function lightHands(words) {
    if (words.some((item) => !item.isHand)) for (const item of words) if (item.isHand) item.weight = HAND;
    return words;
  }

  /** Words without the places of other fleets: "TR4 roof" is no part whose place is the roof on the TR7 alone.
   * @param {Index} index @param {Item[]} items @param {Item[]} words @returns {Item[]} */
  function onTheFleets(index, items, words) {
    const fleets = items.filter((item) => item.kind === "fleet").map((item) => index.fleets.findIndex((fleet) => fleet.id === item.text));
    if (!fleets.length) return words;
    for (const { match, meant, says } of words) {
      for (const id of (meant || new Map()).keys()) {
        for (const [at, places] of index.placeOnly.get(id) || []) {
          if (match[at] > PLACE_AT_BEST || fleets.some((fleet) => places.has(fleet))) continue;
          match[at] = 0;
          if (says) says[at] = 0;
        }
      }
    }
    return words;
  }

  /** @param {Index} index @param {string} text @returns {Item} */
  function wordLike(index, text) {
    return wordItem(index, text, meanings(index, text, false));
  }

  /** @param {Index} index @param {string[]} words @param {boolean} closed @returns {Item[]} */
  function wordItems(index, words, closed) {
    const isShaped = (/** @type {string} */ word) => index.language.shaped.includes(fold(word || ""));
    const isOutlineLetter = (/** @type {string} */ word) => word.length === 1 && index.hands.has(Number(index.ids.get(index.termOf(word)))) && isShaped(words[words.indexOf(word) + 1]); // "L-shaped" is no left
    const said = [...new Set(words)].filter((word) => !index.fillers.has(fold(word)) && !isShaped(word) && !isOutlineLetter(word) && (word.length > 1 || own(index.language.forms, word) || isFloor(index, word)));
    const isOfFloor = index.floor.length > 0 && said.some((word) => !isOurs(index, word) && ofTheFloor(index, word)?.sure === 1);
    const beside = words.findIndex((word, at) => at > 0 && index.language.beside.includes(fold(word)));
    /** @type {Item[]} */
    const items = [];
    for (let at = 0; at < said.length; at += 1) {
      const open = !closed && at === said.length - 1;
      const pair = said[at + 1] && splitWord(index, said[at], said[at + 1]);
      const made = pair ? pair.map((each) => wordItem(index, each.text, each.meanings)) : oneWord(index, said[at], open, isOfFloor);
      const place = words.indexOf(said[at]);
      for (const item of made) {
        item.isWith = beside > 0 && place > beside;
        item.isBeside = item.isWith || isShaped(words[place + 1]);
      }
      items.push(...made);
      if (pair) at += 1;
    }
    return items;
  }

  /** The items of one typed word: of several where it is a compound, or of another language.
   * @param {Index} index @param {string} word @param {boolean} open @param {boolean} isOfFloor other words are of a floor language @returns {Item[]} */
  function oneWord(index, word, open, isOfFloor) {
    const own = meanings(index, word, open);
    const surest = Math.max(0, ...own.values());
    const floor = index.floor.length && (surest < SURELY_OURS || isOfFloor) ? ofTheFloor(index, word, isOfFloor) : null;
    if (floor && (floor.sure === 1 || floor.sure > surest)) {
      const read = floor.texts.flatMap((text) => translated(index, text, floor.sure));
      if (read.length === 1 && surest === 1) for (const [id, sure] of own) if ((read[0].meanings.get(id) || 0) < sure) read[0].meanings = new Map([...read[0].meanings, [id, sure]]);
      return read.filter((each) => !index.fillers.has(fold(each.text))).map((each) => wordItem(index, each.text, each.meanings));
    }
    const apart = surest < 0.8 ? takenApart(index, word) : null;
    if (apart && mean(apart) > surest) return apart.map((each) => wordItem(index, each.text, each.meanings));
    return [wordItem(index, word, own)];
  }

  /** @param {Index} index @param {string} word */
  function isOurs(index, word) {
    const id = index.ids.get(index.termOf(word));
    return id !== undefined && index.postings[id].at.length > 0;
  }

  /** @param {Index} index @param {string} letter */
  function isFloor(index, letter) {
    return index.floor.some((lexicon) => lexicon.known.has(fold(letter)));
  }

  /** @param {object} record @param {string} key */
  function own(record, key) {
    return Object.prototype.hasOwnProperty.call(record, key);
  }

  /** @param {{ meanings: Map<number, number> }[]} apart */
  function mean(apart) {
    return apart.reduce((sum, each) => sum + Math.max(0, ...each.meanings.values()), 0) / apart.length;
  }

  /** "louv re", "push button" for a "pushbutton": two typed words that are one of ours.
   * @param {Index} index @param {string} first @param {string} second */
  function splitWord(index, first, second) {
    const together = first + second;
    if (together.length < 5) return null;
    const both = [first, second].map((word) => index.ids.get(index.termOf(word)));
    const known = both.map((id) => id !== undefined && index.postings[id].at.length > 0);
    if (known[0] && known[1]) return null;
    const id = index.ids.get(index.termOf(together));
    if (id !== undefined && index.postings[id].at.length) return [{ text: together, meanings: new Map([[id, 0.97]]) }];
    const parts = index.joined.get(fold(together)) || index.joined.get(index.termOf(together));
    if (parts && !known[0] && !known[1]) return parts.map((each) => ({ text: together, meanings: new Map([[each, 0.95]]) }));
    return null;
  }

  /** @param {Index} index @param {string} text @param {Map<number, number>} meant @returns {Item} */
  function wordItem(index, text, meant) {
    const match = new Float32Array(index.records.length);
    const says = new Uint8Array(match.length);
    const touched = [];
    let most = 0;
    for (const [id, sure] of meant) {
      const posting = index.postings[id];
      for (let i = 0; i < posting.at.length; i += 1) {
        const at = posting.at[i];
        const worth = sure * posting.weight[i];
        if (match[at] === 0) touched.push(at);
        if (match[at] < worth) match[at] = worth;
        if (worth > most) most = worth;
        if (sure >= A_WORD) says[at] |= SAYS_SO;
        if (sure >= MEANT) says[at] |= posting.says[i];
        else if (sure >= EVERYDAY && posting.says[i] & SAYS_KIND) says[at] |= SAYS_LIKE;
      }
    }
    let fits = 0;
    for (const at of touched) if (match[at] >= 0.6 * most) fits += 1;
    const isHand = [...meant].some(([id, sure]) => sure >= SURELY_OURS && index.hands.has(id));
    return { kind: "word", text, weight: rarity(match.length, fits, most), match, least: 0, meant, says, isHand };
  }

  /** Weight of a word by how few parts it fits well: 0.3 for a common one, 1 for a rare one;
   * one that only stands where words count little is hardly better than unknown.
   * @param {number} n parts @param {number} fits how many it fits nearly as well as any @param {number} most how well at best */
  function rarity(n, fits, most) {
    if (most === 0) return UNKNOWN_WORD;
    const rare = Math.log((n + 1) / (fits + 0.5)) / Math.log(n + 1);
    return Math.min(1, Math.max(most < WORD_MET ? WEAKLY_KNOWN : 0.3, rare));
  }

  spares.finder = { ...spares.finder, lightHands, onTheFleets, wordItems, wordLike };
})();
