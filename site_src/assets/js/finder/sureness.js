// Is a well-ranked part surely the one that is meant, or only near? Pure.
//
// Every number, size, fleet and vehicle that was said must fit. Of the words, one of these must hold:
//   all of them say which part it is: they stand in its names, its assembly or its place;
//   one says what kind of thing it is ("knob", "lid"), and most of them fit the part somehow;
//   most of them stand together in one fault of the part.
// Words for faults ("cracked", "rattles") say little about which part it is and are left out, unless nothing else is said.
// So "wiper arm" is not surely the bush of the wiper linkage, though both words stand on its page.
(function () {
  "use strict";

  const { SAYS_WHICH, SAYS_KIND } = spares.finder;
  const MEANT = 0.65;
  const MET = 0.5;
  const MOST = 0.7;
  const FAULT_WORDS = 3;
  const FAULT_SHARE = 0.75;

  /** A judge of parts for one query.
   * @param {Index} index @param {Item[]} items @returns {(at: number) => boolean} */
  function sureness(index, items) {
    const strict = items.filter((item) => item.least > 0);
    const words = items.filter((item) => item.kind === "word");
    const ids = words.map((item) => [...(item.meant || [])].filter(([, sure]) => sure >= MEANT).map(([id]) => id));
    const saying = words.filter((_item, at) => !ids[at].some((id) => index.faults.has(index.terms[id])));
    const [all, said] = [words, saying].map((list) => list.reduce((sum, item) => sum + item.weight, 0));

    /** All say which part it is; or one says of what kind, and most fit.
     * @param {number} at */
    const named = (at) => {
      let [which, met, kind] = [0, 0, false];
      for (const item of saying) {
        if (item.says && item.says[at] & SAYS_WHICH) which += item.weight;
        if (item.says && item.says[at] & SAYS_KIND) kind = true;
        if (item.match[at] >= MET) met += item.weight;
      }
      return which > 0.99 * said || (kind && met >= MOST * said);
    };

    /** Most of the words stand in one fault: three of them, or nearly all of a short one.
     * @param {Phrase} fault */
    const tells = (fault) => {
      let [told, weight] = [0, 0];
      words.forEach((item, word) => {
        if (!ids[word].some((id) => fault.ids.includes(id))) return;
        told += 1;
        weight += item.weight;
      });
      return weight >= MOST * all && (told >= FAULT_WORDS || (told > 1 && told >= FAULT_SHARE * fault.terms.length));
    };

    return (at) => {
      for (const item of strict) if (item.match[at] < item.least) return false;
      return said === 0 || named(at) || (words.length > 1 && index.symptoms[at].some(tells));
    };
  }

  spares.finder = { ...spares.finder, sureness, MEANT };
})();
