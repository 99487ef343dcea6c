// Do the words tell how a part fails, as its record does? Pure.
//
// Most of them must stand in one fault of the part beside a word for a fault that its names do not hold ("push button");
// or each of them in a fault that is told of this part alone: "strap slides along the rail".
(function () {
  "use strict";

  const MEANT = 0.65;
  const MOST = 0.7;
  const FAULT_WORDS = 3;
  const FAULT_SHARE = 0.75;
  const WHOLE = 0.9;

  /** What the word most surely means is how a part fails.
   * @param {Index} index @param {Item} item */
  function isFault(index, item) {
    const most = Math.max(0, ...(item.meant || new Map()).values());
    const best = [...(item.meant || [])].filter(([, sure]) => sure === most);
    return best.length > 0 && best.every(([id]) => index.faults.has(index.terms[id]));
  }

  /** @param {Index} index @param {Item[]} words @returns {(at: number) => boolean} */
  function faultTold(index, words) {
    if (words.length < 2) return () => false;
    const ids = words.map((item) => [...(item.meant || [])].filter(([, sure]) => sure >= MEANT).map(([id]) => id));
    const faults = words.filter((item) => isFault(index, item));
    const isOther = (/** @type {number} */ at) => faults.some((item) => ![...(item.meant || [])].some(([id, sure]) => sure >= WHOLE && index.ownWords[at].has(id)));
    const most = MOST * words.reduce((sum, item) => sum + item.weight, 0);
    const isRepeated = (/** @type {Phrase} */ fault) => repeats(index, fault, ids);
    const isAlone = (/** @type {number} */ at) => !index.symptoms.some((told, other) => other !== at && !index.records[other].over && told.some(isRepeated));
    return (at) => (isOther(at) && index.symptoms[at].some((fault) => tells(fault, words, ids, most))) || (index.symptoms[at].some(isRepeated) && isAlone(at));
  }

  /** Most of the words stand in one fault: three of them, or nearly all of a short one.
   * @param {Phrase} fault @param {Item[]} words @param {number[][]} ids what each means @param {number} most */
  function tells(fault, words, ids, most) {
    const told = words.filter((_item, at) => ids[at].some((id) => fault.ids.includes(id)));
    const weight = told.reduce((sum, item) => sum + item.weight, 0);
    return weight >= most && (told.length >= FAULT_WORDS || (told.length > 1 && told.length >= FAULT_SHARE * fault.terms.length));
  }

  /** Each of three words and more stands itself in the fault, and they are most of it: "mixing damper motor" tells of none.
   * @param {Index} index @param {Phrase} fault @param {number[][]} ids */
  function repeats(index, fault, ids) {
    const telling = fault.terms.filter((id) => !index.fillers.has(index.terms[id]));
    return ids.length >= FAULT_WORDS && ids.every((meant) => meant.some((id) => telling.includes(id))) && ids.length >= FAULT_SHARE * telling.length;
  }

  spares.finder = { ...spares.finder, isFault, faultTold, MEANT };
})();
