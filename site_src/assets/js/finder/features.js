// Which feature does a number in a query speak of? "8 mm square", "bore twelve", "two slots 72 apart". Pure.
//
// A word or a few of a feature go to the number beside them. Where two numbers could have it, sentences are read as they
// begin: "bore 12 keyway 4" names the feature first, "12 bore 20 shank" the number.
(function () {
  "use strict";

  const { fold, cutShape, takeShapes } = spares.finder;

  const LONGEST_PHRASE = 4;
  const MOST_BETWEEN = 2;
  const MOST_COUNTED = 12;
  const LONGEST_COUNTED = 3;
  /** From here on the screws' distance is meant, below it the screw's hole. */
  const LEAST_SPACING = 15;
  const ROUND = ["bore", "d-bore", "seat", "shank", "pin", "pin-hole", "screw-hole", "panel-hole", "ring", "plug", "thread", "grip"];
  /** Features with more sizes than one; more sizes beside any other are those of the whole. */
  const OF_SEVERAL = ["spacing", "strap-slot", "width-inside", "outside", "thread"];
  /** Which side of the part, and no feature by itself. */
  const SIDES = ["width-inside", "outside", "shank"];
  /** What may be longer than two digits tell. */
  const LONG = ["spacing", "outside", "width-inside", "tips", "thread", "teeth"];
  const LEAST_LONG = 100;

  /** The chunks with phrases of features joined, each number with the feature beside it.
   * @param {Chunk[]} chunks @param {Language} language @returns {Chunk[]} */
  function bound(chunks, language) {
    const words = wordsOf(language);
    const joined = takeShapes(joinPhrases(chunks.flatMap((chunk) => cutShape(chunk, words)), words), words);
    for (let at = 0; at < joined.length; at += 1) {
      if (joined[at].kind === "thread") takeScrew(joined, at, words);
      if (joined[at].kind !== "measure") continue;
      const end = endOfRun(joined, at);
      const found = featureOf(joined, at, end, words);
      if (found !== null) bind(joined, at, end, found, words);
      else if (joined[at].shape === "d" && end === at) joined[at].feature = { kinds: ["d-bore"], text: "D", isBefore: false, shape: "d" };
      takePitch(joined, end, words);
      at = end;
    }
    return joined.filter((chunk) => chunk.kind !== "gone");
  }

  /** @param {Language} language @returns {FeatureWords} kept with the language */
  function wordsOf(language) {
    if (language.phrases) return language.phrases;
    /** @type {Map<string, string[]>} */
    const kinds = new Map(Object.entries(language.features).map(([phrase, said]) => [phrase.split(" ").map(fold).join(" "), said.split(" ")]));
    const set = (/** @type {string[]} */ list) => new Set(list.map(fold));
    language.phrases = { kinds, shapes: new Map(Object.entries(language.shapes).map(([word, shape]) => [fold(word), shape])), skipped: set([...language.fillers, ...language.glue]), pitch: set(language.pitch), caliper: set(language.caliper), tape: set(language.tape), vehicles: set(language.vehicles), to: set(language.thread_to) };
    return language.phrases;
  }

  /** @param {Chunk[]} chunks @param {FeatureWords} words */
  function joinPhrases(chunks, words) {
    /** @type {Chunk[]} */
    const joined = [];
    for (let at = 0; at < chunks.length; ) {
      const length = phraseAt(chunks, at, words);
      if (length) {
        const text = chunks.slice(at, at + length).map((chunk) => chunk.text).join(" ");
        const key = chunks.slice(at, at + length).map((chunk) => fold(chunk.text)).join(" ");
        joined.push({ ...chunks[at], kind: "feature", text, kinds: words.kinds.get(key) });
      } else joined.push(marked(chunks, at, words));
      at += length || 1;
    }
    return joined;
  }

  /** @param {Chunk[]} chunks @param {number} at @param {FeatureWords} words @returns {Chunk} */
  function marked(chunks, at, words) {
    const chunk = chunks[at];
    if (chunk.kind !== "word" && chunk.kind !== "by") return chunk;
    const word = fold(chunk.text);
    if (words.to.has(word) && chunks[at - 1]?.kind === "thread" && chunks[at + 1]?.kind === "thread") return { ...chunk, kind: "side" };
    for (const kind of /** @type {const} */ (["pitch", "caliper", "tape"])) if (words[kind].has(word)) return { ...chunk, kind };
    return chunk;
  }

  /** @param {Chunk[]} chunks @param {number} at @param {FeatureWords} words @returns {number} how many chunks are one phrase */
  function phraseAt(chunks, at, words) {
    let key = "";
    let length = 0;
    for (let step = 0; step < LONGEST_PHRASE && ["word", "round", "axis", "glue"].includes(chunks[at + step]?.kind); step += 1) {
      key += (step ? " " : "") + fold(chunks[at + step].text);
      if (words.kinds.has(key)) length = step + 1;
    }
    return length;
  }

  /** @param {Chunk[]} chunks @param {number} at */
  function endOfRun(chunks, at) {
    let end = at;
    while (chunks[end + 1]?.kind === "by" && chunks[end + 2]?.kind === "measure") end += 2;
    return end;
  }

  /** The place of the feature that a run of numbers speaks of.
   * @param {Chunk[]} chunks @param {number} from @param {number} to @param {FeatureWords} words @returns {number | null} */
  function featureOf(chunks, from, to, words) {
    const before = beside(chunks, from, -1, words);
    const after = beside(chunks, to, 1, words);
    const isFree = (/** @type {number | null} */ at) => at !== null && !chunks[at].isBound && !(from === to && isNumber(chunks, from, at, words));
    const [left, right] = [before, after].map((at) => (isFree(at) ? at : null));
    if (right !== null && isCounted(chunks, from, to, right)) return chunks[right + 1]?.kind === "measure" ? left : null; // "cradle 3 screws"
    if (right === null || left === null) return left ?? right;
    if (isSpacing(chunks[right]) || (right === to + 1 && isSideFirst(chunks, right))) return right;
    return chunks[right + 1]?.kind === "measure" || left === from - 1 ? left : right;
  }

  /** "705 strap", "405 window knob": what is no size of such a feature is the number of a vehicle or a part.
   * @param {Chunk[]} chunks @param {number} from @param {number} at of the feature @param {FeatureWords} words */
  function isNumber(chunks, from, at, words) {
    const number = chunks[from];
    if (number.unit || number.exact) return false;
    if (chunks[from - 1] && words.vehicles.has(fold(chunks[from - 1].text))) return true;
    const isLong = LONG.includes((chunks[at].kinds || [])[0]);
    const isSizeBefore = isSpacing(chunks[at]) || chunks[at].kinds?.[0] === "length" || (isLong && chunks[at].text.includes(" ")); // "138 over the pins"
    return number.value >= LEAST_LONG && !(at > from ? isSizeBefore : isLong);
  }

  /** "two holes": how many, and no size.
   * @param {Chunk[]} chunks @param {number} from @param {number} to @param {number} right */
  function isCounted(chunks, from, to, right) {
    const { value, unit, exact } = chunks[from];
    return from === to && !unit && !exact && value <= MOST_COUNTED && endsInMany(chunks, right) && !isSpacing(chunks[right]);
  }

  /** "holes", "window latch knobs"
   * @param {Chunk[]} chunks @param {number} at */
  function endsInMany(chunks, at) {
    const run = chunks.slice(at, at + LONGEST_COUNTED);
    const end = run.findIndex((chunk) => !["word", "feature"].includes(chunk.kind));
    return (end < 0 ? run : run.slice(0, end)).some((chunk) => /[^s]s$/.test(chunk.text)) && chunks[at + 1]?.kind !== "measure";
  }

  /** "12 inside 20 outside", whatever is named before it.
   * @param {Chunk[]} chunks @param {number} at of the feature */
  function isSideFirst(chunks, at) {
    return SIDES.includes((chunks[at].kinds || [])[0]) && chunks[at + 1]?.kind === "measure" && SIDES.includes((chunks[at + 2]?.kinds || [])[0]);
  }

  /** "apart", "between", which say nothing else
   * @param {Chunk} chunk */
  function isSpacing(chunk) {
    return chunk.kinds?.length === 1 && chunk.kinds[0] === "spacing";
  }

  /** @param {Chunk[]} chunks @param {number} at @param {1 | -1} step @param {FeatureWords} words @returns {number | null} */
  function beside(chunks, at, step, words) {
    for (let next = at + step, n = 0; chunks[next] && n <= MOST_BETWEEN; next += step, n += 1) {
      if (chunks[next].kind === "feature") return step > 0 && chunks[next - 1].kind === "axis" && chunks[next + 1]?.kind === "measure" ? null : next; // "22 high bolts 66"
      const isAxis = chunks[next].kind === "axis" && step > 0;
      if (!isAxis && !["glue", "about", "round", "tape", "caliper"].includes(chunks[next].kind) && !(chunks[next].kind === "word" && words.skipped.has(fold(chunks[next].text)))) return null;
    }
    return null;
  }

  /** @param {Chunk[]} chunks @param {number} from @param {number} to @param {number} at of the feature @param {FeatureWords} words */
  function bind(chunks, from, to, at, words) {
    const feature = chunks[at];
    let kinds = feature.kinds || [];
    if (to > from && !OF_SEVERAL.includes(kinds[0])) return;
    const value = chunks[from].value * (chunks[from].unit || 1);
    if (kinds[0] === "spacing" && kinds.includes("screw-hole")) kinds = value < LEAST_SPACING ? ["screw-hole", "slot"] : ["spacing"];
    feature.isBound = true;
    chunks[from].feature = { kinds, text: feature.text, isBefore: at < from, shape: feature.shape || "" };
    if (kinds[0] !== "spacing") return;
    for (const other of [beside(chunks, from, -1, words), beside(chunks, Math.max(to, at), 1, words)]) if (other !== null) chunks[other].isBound = true;
  }

  /** "M4 screw", "thread M32": the word says nothing more.
   * @param {Chunk[]} chunks @param {number} at @param {FeatureWords} words */
  function takeScrew(chunks, at, words) {
    for (const step of /** @type {const} */ ([-1, 1])) {
      const next = beside(chunks, at, step, words);
      const kinds = next === null ? [] : chunks[next].kinds || [];
      if (next !== null && (kinds.includes("screw-hole") || kinds.includes("thread"))) {
        chunks[next].isBound = true;
        chunks[at].shape = chunks[at].shape || chunks[next].shape;
      }
    }
  }

  /** "66 pitch 8": the number behind belongs to the one before.
   * @param {Chunk[]} chunks @param {number} end @param {FeatureWords} words */
  function takePitch(chunks, end, words) {
    if (chunks[end + 1]?.kind !== "pitch" || chunks[end + 2]?.kind !== "measure" || !words) return;
    chunks[end].pitch = chunks[end + 2].value;
    chunks[end + 1].kind = chunks[end + 2].kind = "gone";
  }

  /** @param {AskedFeature | null} feature */
  function isRoundFeature(feature) {
    return Boolean(feature && ROUND.includes(feature.kinds[0]));
  }

  spares.finder = { ...spares.finder, bound, isRoundFeature };
})();
