// Which words does a phrase of a record stand for, synonyms among them? Each phrase is worked out once. Pure.
(function () {
  "use strict";

  const { fold, pieces } = spares.finder;

  /** A synonym counts this much of the word that it stands for; a word out of a longer synonym a little less. */
  const SYNONYM = 0.88;
  const SYNONYM_PHRASE = 0.74;
  const ENDING = 0.9;
  const LONG_COMPOUND = 8;

  /** The groups of synonyms: their members as terms, which begin with a term, which are one word.
   * @typedef {{ members: number[][][], byFirst: Map<number, { group: number, member: number[] }[]>, singles: { text: string, group: number }[],
   *   endings: Map<number, number[]> }} Groups */

  /** A reader of phrases into terms of an index.
   * @param {Index} index @param {string[][]} synonyms the depot's groups
   * @returns {PhraseReader} */
  function phraseReader(index, synonyms) {
    const groups = synonymGroups(index, synonyms);
    /** @type {Map<string, number>} */
    const words = new Map();
    /** @type {Map<string, Phrase>} */
    const read = new Map();
    return (phrase, isName, widened) => {
      const key = (isName ? "!" : widened ? "+" : "-") + phrase;
      let found = read.get(key);
      if (!found) {
        found = widenedTerms(index, termsOf(index, phrase, isName, words), widened ? groups : null);
        read.set(key, found);
      }
      return found;
    };
  }

  /** @param {Index} index @param {string} phrase @param {boolean} isName words that say nothing stay in a name
   * @param {Map<string, number>} words those of no meaning as negative numbers @returns {number[]} */
  function termsOf(index, phrase, isName, words) {
    const terms = [];
    for (const word of pieces(phrase)) {
      let id = words.get(word);
      if (id === undefined) {
        const known = index.idOf(index.termOf(word));
        id = index.fillers.has(fold(word)) ? -1 - known : known;
        words.set(word, id);
      }
      if (id >= 0) terms.push(id);
      else if (isName) terms.push(-1 - id);
    }
    return terms;
  }

  /** @param {Index} index @param {number[]} terms @param {Groups | null} groups null: no synonyms @returns {Phrase} */
  function widenedTerms(index, terms, groups) {
    /** @type {Map<number, number>} */
    const best = new Map(terms.map((id) => [id, 1]));
    if (groups) {
      const put = (/** @type {number} */ group, /** @type {number} */ factor) => {
        for (const member of groups.members[group]) {
          const worth = factor * (member.length === 1 ? SYNONYM : SYNONYM_PHRASE);
          for (const id of member) if ((best.get(id) || 0) < worth) best.set(id, worth);
        }
      };
      terms.forEach((_id, from) => meant(groups, terms, from).forEach((group) => put(group, 1)));
      for (const id of terms) for (const group of ofEnding(index, groups, id)) put(group, ENDING);
    }
    return { terms, ids: [...best.keys()], factors: [...best.values()] };
  }

  /** Groups with a member that stands at this place.
   * @param {Groups} groups @param {number[]} terms @param {number} from
   * @returns {number[]} */
  function meant(groups, terms, from) {
    return (groups.byFirst.get(terms[from]) || [])
      .filter((each) => each.member.every((id, step) => terms[from + step] === id))
      .map((each) => each.group);
  }

  /** A compound that ends in a word with synonyms has them too: "sitzschienenstopfen" is also some "verschluss".
   * @param {Index} index @param {Groups} groups @param {number} id @returns {number[]} */
  function ofEnding(index, groups, id) {
    const text = index.terms[id];
    if (text.length < LONG_COMPOUND) return [];
    let known = groups.endings.get(id);
    if (!known) {
      known = groups.singles
        .filter((each) => text.length - each.text.length >= 3 && text.endsWith(each.text))
        .map((each) => each.group);
      groups.endings.set(id, known);
    }
    return known;
  }

  /** @param {Index} index @param {string[][]} synonyms */
  function synonymGroups(index, synonyms) {
    const members = synonyms.map((group) => group
      .map((member) => pieces(member).map((word) => index.idOf(index.termOf(word))))
      .filter((terms) => terms.length));
    /** @type {Map<number, { group: number, member: number[] }[]>} */
    const byFirst = new Map();
    members.forEach((group, at) => group.forEach((member) => {
      byFirst.set(member[0], [...(byFirst.get(member[0]) || []), { group: at, member }]);
    }));
    const singles = members.flatMap((group, at) => group
      .filter((member) => member.length === 1 && index.terms[member[0]].length >= 4)
      .map((member) => ({ text: index.terms[member[0]], group: at })));
    return { members, byFirst, singles, endings: new Map() };
  }

  spares.finder = { ...spares.finder, phraseReader };
})();
