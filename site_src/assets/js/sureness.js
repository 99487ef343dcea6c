// Is a well-ranked part surely the one that is meant, or only near? Pure.
//
// Every number, size, fleet and vehicle that was said must fit. Of the words, one of these must hold:
//   all of them say which part it is: they stand in its names, its assembly or its place;
//   one says what kind of thing it is ("knob", "lid"), and most of them fit the part somehow;
//   most of them stand together in one fault of the part.
// Words for faults ("cracked", "rattles") say little about which part it is and are left out, unless nothing else is said.
// So "wiper arm" is not surely the bush of the wiper linkage, though both words stand on its page.
(function (root) {
  "use strict";

  const MEANT = 0.65;
  const MET = 0.5;
  const MOST = 0.7;
  const FAULT_WORDS = 3;
  const FAULT_SHARE = 0.75;

  /** @param {any} index @param {any[]} items @param {number} at @returns {boolean} */
  function isSure(index, items, at) {
    if (items.some((item) => item.match[at] < item.least)) return false;
    const words = items.filter((item) => item.kind === "word");
    const saying = words.filter((item) => !isFault(index, item));
    if (!saying.length) return true;
    const share = (/** @type {(item: any) => boolean} */ holds) => weigh(saying.filter(holds)) / weigh(saying);
    if (share((item) => stands(item, index.which[at])) > 0.99) return true;
    if (saying.some((item) => stands(item, index.kinds[at])) && share((item) => item.match[at] >= MET) >= MOST) return true;
    return index.symptoms[at].some((/** @type {any} */ fault) => tells(words, fault));
  }

  /** @param {any[]} items */
  function weigh(items) {
    return items.reduce((sum, item) => sum + item.weight, 0);
  }

  /** @param {any} index @param {any} item */
  function isFault(index, item) {
    for (const [id, sure] of item.meant || []) if (sure >= MEANT && index.faults.has(index.terms[id])) return true;
    return false;
  }

  /** Whether one of the phrases has the word, or a synonym of it. @param {any} item @param {any[]} phrases */
  function stands(item, phrases) {
    for (const [id, sure] of item.meant || []) {
      if (sure >= MEANT && phrases.some((phrase) => phrase.ids.includes(id))) return true;
    }
    return false;
  }

  /** Whether most of the words stand in one fault: three of them, or nearly all of a short one.
   * @param {any[]} words @param {any} fault */
  function tells(words, fault) {
    const told = words.filter((item) => stands(item, [fault]));
    if (weigh(told) < MOST * weigh(words)) return false;
    return told.length >= FAULT_WORDS || (told.length > 1 && told.length >= FAULT_SHARE * fault.terms.length);
  }

  root.spares = Object.assign(root.spares || {}, { isSure });
})(/** @type {any} */ (globalThis));
