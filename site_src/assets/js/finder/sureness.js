// Is a well-ranked part surely the one that is meant, or only near? Pure.
//
// Every number, fleet and vehicle that was said must fit, and every size within what a mechanic accepts (fitting.js). Of
// the words, one of these must hold:
//   one says what kind of thing it is ("knob", "lid"), another which one, and most of them fit the part somehow;
//   a kind alone, where no other part is of that kind;
//   they tell of one fault of the part (faults.js).
// And everything that was said must be accounted for by something of the part that is of the same kind (accounted.js).
// Words for faults ("cracked", "rattles") say little about which part it is and are left out; alone they make nothing sure.
// What the model alone tells (modelled.js) makes nothing sure.
// So "wiper arm" is not surely the bush of the wiper linkage, nor "limit switch" surely its cam. Of a number that was typed,
// only the last letter may be missing at its end.
(function () {
  "use strict";

  const { SAYS_WHICH, SAYS_KIND, SAYS_MORE, fitOf, shapeFit, isFault, faultTold } = spares.finder;
  const MET = 0.5;
  const MOST = 0.7;
  /** So many parts may be of one kind for the kind alone to say which. */
  const FEW = 2;
  const LEAST_SIZES = 3;
  const LEAST_MEASURED = 2;
  const COUNTED = ["teeth", "module"];
  /** So many words of how it looks describe a part and do not name it. */
  const MOST_SEEN = 2;
  /** What is also described by its looks must be named by so many of its own words. */
  const LEAST_NAMED = 2;
  const WHOLE = 0.9;
  /** A thread with its pitch is told as a whole. */
  const WITH_PITCH = 2;
  /** What rounding to whole millimetres takes away. */
  const HALF = 0.5;
  /** So few digits of a number tell of none. */
  const SHORT = 2;
  /** A whole number makes sure of its part beside words that do not speak against it. */
  const HARDLY_MET = 0.35;

  /** @param {Item} item @returns {number} how many records are of the kind that a word says */
  function ofKind(item) {
    let n = 0;
    for (const bits of item.says || []) if (bits & SAYS_KIND) n += 1;
    return n;
  }

  /** A judge of parts for one query.
   * @param {Index} index @param {Item[]} items @param {(at: number) => boolean} isAccounted @returns {(at: number) => boolean} */
  function sureness(index, items, isAccounted) {
    const strict = items.filter((item) => item.least > 0);
    const words = items.filter((item) => item.kind === "word");
    const saying = words.filter((item) => !isFault(index, item));
    const said = saying.reduce((sum, item) => sum + item.weight, 0);
    const tellsAFault = faultTold(index, words);

    const whole = saying.map((item) => [...(item.meant || [])].filter(([, sure]) => sure >= WHOLE).map(([id]) => id));
    const hands = saying.filter((item) => item.isHand);
    const sized = items.filter((item) => item.size && item.kind !== "shape");
    const threads = sized.reduce((sum, item) => sum + (item.size?.thread?.mm ? (item.size.thread.pitch ? WITH_PITCH : 1) : 0), 0);
    const shapes = items.filter((item) => item.kind === "shape");
    const measured = sized.reduce((sum, item) => sum + (item.kind === "size" && !item.size?.kinds ? item.size?.values.length || 0 : 0), 0);
    const isTaped = sized.every((item) => item.size?.step || item.size?.about || !item.size?.caliper);
    const isRough = sized.length > 0 && isTaped && !sized.some((item) => item.size?.kinds?.some((kind) => index.fits.mating[kind]));

    /** Which words say a kind of thing: a part that is none of it is not meant. */
    const isKind = saying.map((item) => [...(item.meant || [])].some(([id, sure]) => sure === 1 && index.kinds.has(id)));

    /** Whether a word stands itself in the part's own names: what only tells of it may be true of many.
     * @param {number} at @param {Item} item */
    const isOwn = (at, item) => [...(item.meant || [])].some(([id, sure]) => sure >= WHOLE && index.ownWords[at].has(id));

    /** How many of the words stand together in one of its names: "toothed" of one and "wheel" of another name nothing.
     * @param {number} at */
    const inOneName = (at) => Math.max(0, ...index.ownNames[at].map((name) => whole.filter((own) => own.some((id) => name.includes(id))).length));

    /** One says of what kind, and most fit; a single word must say it alone.
     * @param {number} at */
    const named = (at) => {
      let [which, whichWords, own, told, seen, met, kind, isOther] = [0, 0, 0, 0, 0, 0, false, false];
      for (const [place, item] of saying.entries()) {
        const says = item.says ? item.says[at] : 0;
        if (says & SAYS_WHICH) [which, whichWords] = [which + item.weight, whichWords + 1];
        if (isOwn(at, item)) own += item.weight;
        else if (item.match[at] >= MET) told += item.weight;
        if (says & SAYS_KIND && !item.isBeside) kind = true; // "outlet with slats" is no slat
        if (item.match[at] >= MET) met += item.weight;
        else if (isKind[place]) isOther = true;
        if (item.match[at] >= MET && !(says & SAYS_MORE)) seen += 1;
      }
      if (which > 0.99 * said && measured >= LEAST_MEASURED && (!isTaped || whichWords > 1)) return true;
      if (!kind || isOther || seen >= MOST_SEEN || met < MOST * said) return false;
      if (told && saying.length > MOST_SEEN && (inOneName(at) < LEAST_NAMED || (seen && own < told))) return false;
      return whichWords > 1 || isHeld(at) || isOne;
    };

    /** A hand that was said is in its name.
     * @param {number} at */
    const isOfHand = (at) => hands.every((item) => isOwn(at, item));

    /** A size of a feature, a fleet or a number beside a single word.
     * @param {number} at */
    const isHeld = (at) => strict.some((item) => (item.numbers ? item.numbers.get(at)?.isWhole : item.kind !== "bare") && item.match[at] >= item.least) && !isRough;

    /** A whole number, and words of which some at least are the part's.
     * @param {number} at */
    const numbered = (at) => strict.some((item) => item.numbers?.get(at)?.isWhole && item.match[at] >= WHOLE)
      && saying.reduce((sum, item) => sum + (item.match[at] >= MET ? item.weight : 0), 0) >= HARDLY_MET * said;

    const isOne = saying.length === 1 && !isRough && ofKind(saying[0]) <= FEW;

    /** Numbers, fleets and vehicles fit; of a size, that something is near it.
     * @param {number} at */
    const holds = (at) => strict.every((item) => {
      const hit = item.numbers?.get(at);
      if (item.modelled?.has(at)) return false; // nobody wrote it down
      if ((item.isStrange && !hit?.isWhole) || hit?.isOther) return false;
      if (hit && isNumber(item, at)) return (hit.isWhole || said > 0) && item.match[at] >= item.least;
      return isSized(item, at) ? item.match[at] > 0 : item.match[at] >= item.least;
    });

    /** What a mechanic would say of the sizes: dear to ask, so it is asked last.
     * @param {number} at */
    const fits = (at) => shapes.every((item) => shapeFit(index, at, /** @type {Size} */ (item.size)).fits) && strict.every((item) => {
      return isNumber(item, at) || !isSized(item, at) || fitOf(index, at, /** @type {Size} */ (item.size)).fits;
    });

    /** Without words: a number, a fleet, or three sizes of what a model tells, off a caliper or just the part's own, rounded; a size by hand may be anybody's.
     * @param {number} at */
    const bare = (at) => {
      if (words.length || !strict.some((item) => item.numbers || item.size)) return false; // a vehicle says which vehicle
      if (sized.every((item) => item.kind === "bare" && item.numbers?.has(at))) return true;
      if (isOnly(at)) return true;
      const values = sized.reduce((sum, item) => sum + (item.size?.values.length || 0), 0);
      return values >= LEAST_SIZES && !index.records[at].by_hand && sized.every((item) => item.size?.caliper || isRounded(at, item));
    };

    /** @type {number[] | null} */
    let having = null;

    /** Two features of named kinds, one of them to a tenth or counted, which this part alone has.
     * @param {number} at */
    const isOnly = (at) => {
      const isTold = sized.some(({ size }) => size?.exact || COUNTED.includes(size?.kinds?.[0] || ""));
      if (!isTold || sized.length < LEAST_MEASURED || !sized.every(({ size }) => size?.kinds && isMating(size.kinds))) return false;
      having = having || index.records.flatMap((_each, other) => (sized.every((item) => item.match[other] >= MET && fitOf(index, other, /** @type {Size} */ (item.size)).fits) ? [other] : []));
      return having.length === 1 && having[0] === at;
    };

    /** @param {string[]} kinds */
    const isMating = (kinds) => kinds.some((kind) => index.fits.mating[kind] || COUNTED.includes(kind));

    /** Whole millimetres, each of them a size of the part.
     * @param {number} at @param {Item} item */
    const isRounded = (at, { size }) => {
      if (!size || size.taped || size.about || size.step || size.given) return false;
      const { fits: isFit, taken } = fitOf(index, at, size);
      return isFit && size.values.every((value, place) => taken && taken[place] && Math.abs(value - taken[place].mm) < HALF);
    };

    /** A part with two threads is known by both: another reducer has one of them, too.
     * @param {number} at */
    const isThreaded = (at) => !threads || threads > 1 || index.features[at].filter((feature) => feature.kind === "thread" && feature.isNamed).length < threads + 1;

    const meant = (/** @type {number} */ at) => isOfHand(at) && (named(at) || tellsAFault(at)) && isThreaded(at);
    return (at) => holds(at) && (said === 0 ? bare(at) && isAccounted(at) : numbered(at) || (meant(at) && isAccounted(at))) && fits(at);
  }

  /** Whether an item is a number of the part, or enough of one: "80" is a size before it is the end of 0280.
   * @param {Item} item @param {number} at */
  function isNumber(item, at) {
    const hit = item.numbers?.get(at);
    return hit !== undefined && Math.fround(hit.match) >= item.match[at] && (hit.isWhole || item.kind !== "bare" || item.text.length > SHORT);
  }

  /** Whether an item asks for a size there, and not for a vehicle.
   * @param {Item} item @param {number} at */
  function isSized(item, at) {
    return Boolean(item.size?.values.length) && !(item.kind === "bare" && item.vehicles?.has(at));
  }

  spares.finder = { ...spares.finder, sureness };
})();
