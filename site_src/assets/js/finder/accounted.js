// Is everything that was said accounted for by something of the part that is of the same kind? Pure.
//
//   a number of things     by as many of them in what the part is called, looks like or is for: "three screws"
//   what it lacks          by a text of its own that says so; never by a part that has it or says nothing: "without wing"
//   a shape                by the shape of the whole, or of just that thing: "round", "round hole"
//   a material, a colour   by its material, its looks or its name: "steel", "white"
//   a letter               by a number, or by one of its own texts: "V belt"
//   what it has            by what it is and has itself, not by how it fails or where it sits: "with lid", "knob spindle"
//   any other word         by any of its texts
//
// What tells of a fault accounts for itself. Sizes, numbers, vehicles and hands are looked at elsewhere.
(function () {
  "use strict";

  const { fold, pieces, english, ofTheFloor, countOf, countedIn, isFault, SAYS_OWN, SAYS_SO } = spares.finder;

  const LONGEST_RUN = 3;
  const FURTHEST = 3;
  /** So many words of its own name count the part itself: "two window knobs". */
  const NAMED = 2;
  /** What an opening is shaped like is no shape of the whole. */
  const OPENINGS = ["square", "screw-hole", "panel-hole", "pin-hole", "width-inside", "slot", "strap-slot", "bore", "d-bore"];
  /** The kinds of feature that are of a shape by themselves. */
  const SHAPED = new Map([["square", "square"], ["hexagon", "flats"]]);
  const NO_METAL = "plastic";

  /** @typedef {(at: number) => boolean} Claim */
  /** A piece of a word; `isCut`: of several that were written together.
   * @typedef {{ text: string, isBound: boolean, isCut: boolean }} Said */

  /** What a record tells of itself, worked out once.
   * @param {Index} index @param {number} at @returns {Self} */
  function selfOf(index, at) {
    const selves = index.selves || (index.selves = []);
    return selves[at] || (selves[at] = lookedAt(index, index.records[at]));
  }

  /** @param {Index} index @param {PartRecord} record @returns {Self} */
  function lookedAt(index, record) {
    const names = [record.name, ...(record.other_names || [])];
    const looks = record.looks || [];
    const terms = (/** @type {string[]} */ texts) => new Set(texts.flatMap(pieces).map(index.termOf));
    const had = [...names, ...looks, ...(record.checks || []).map((each) => each.name), ...(record.features || []).map((each) => each.name)];
    const phrases = had.flatMap((text) => text.split(",")).map((text) => pieces(text).map(fold));
    return {
      seen: terms([...names, ...looks, record.material || ""]),
      told: terms([...had, record.purpose || ""]),
      symptoms: terms(record.symptoms || []),
      material: pieces(fold(record.material || "")),
      counted: countedIn(index, [...names, ...looks, record.purpose || ""]),
      whole: new Set([...names, ...looks].flatMap((text) => text.split(",")).flatMap((text) => shapesOfWhole(index, pieces(text).map(fold)))),
      pairs: new Set(phrases.flatMap((words) => words.flatMap((word, place) => pairAt(index, words, word, place)))),
    };
  }

  /** "round" of "round collar with a wing"; not of "half-round", "round hole" or "frame with a round hole".
   * @param {Index} index @param {string[]} words @returns {string[]} */
  function shapesOfWhole(index, words) {
    const { outlines, features, parted } = index.language;
    const end = words.findIndex((word, place) => place > 0 && index.fillers.has(word));
    return words.slice(0, end < 0 ? words.length : end).flatMap((word, place) => {
      const next = words[place + 1] || "";
      const isOpening = own(features, next) && OPENINGS.includes(features[next].split(" ")[0]);
      return own(outlines, word) && !isOpening && !parted.includes(words[place - 1] || "") ? [outlines[word]] : [];
    });
  }

  /** A shape, a letter or what is denied with the word behind it: "round hole", "l shaped".
   * @param {Index} index @param {string[]} words @param {string} word @param {number} place @returns {string[]} */
  function pairAt(index, words, word, place) {
    const { outlines, lacking, parted } = index.language;
    const next = words[place + 1];
    if (!next) return [];
    if (lacking.includes(word)) return [`- ${index.termOf(next)}`];
    if (parted.includes(word)) return [`${word} ${outlines[next] || index.termOf(next)}`];
    return own(outlines, word) || word.length === 1 ? [`${outlines[word] || word} ${index.termOf(next)}`] : [];
  }

  /** @param {object} record @param {string} key */
  function own(record, key) {
    return Object.prototype.hasOwnProperty.call(record, key);
  }

  /** A judge of parts for one query.
   * @param {Index} index @param {Rest[]} rest all that is no size @param {Item[]} items @returns {Claim} */
  function accounting(index, rest, items) {
    const said = rest.flatMap((chunk) => pieces(chunk.text).map((text, _at, all) => ({ text: fold(text), isBound: Boolean(chunk.feature), isCut: all.length > 1 })));
    const tellsAFault = items.some((item) => item.kind === "word" && isFault(index, item));
    const claims = said.flatMap((_each, at) => claimAt(index, said, at, items, tellsAFault) || []);
    const words = items.filter((item) => item.kind === "word" && !item.isHand && !own(index.language.stuffs, item.text) && !isFault(index, item));
    return (at) => claims.every((claim) => claim(at)) && words.every((item) => isMet(item, at, !tellsAFault && goesIn(index, item)));
  }

  /** "Heater knob spindle" asks for the spindle, which a fault of the knob speaks of.
   * @param {Index} index @param {Item} item */
  function goesIn(index, item) {
    return [...(item.meant || [])].some(([id, sure]) => sure === 1 && index.goesIn.has(index.terms[id]));
  }

  /** @param {Item} item @param {number} at @param {boolean} isThing what goes into a feature: it must be told of as the part's own */
  function isMet(item, at, isThing) {
    const says = (item.says && item.says[at]) || 0;
    return (says & SAYS_SO) !== 0 && (!(item.isWith || isThing) || (says & SAYS_OWN) !== 0);
  }

  /** What the word at a place claims of a part beyond its being met; null for nothing.
   * @param {Index} index @param {Said[]} said @param {number} at @param {Item[]} items @param {boolean} tellsAFault @returns {Claim | null} */
  function claimAt(index, said, at, items, tellsAFault) {
    const { text, isBound, isCut } = said[at];
    const { lacking, colours, outlines } = index.language;
    if (lacking.includes(text)) return lackClaim(index, said, at);
    const n = isCut ? 0 : countOf(index, text) || countOfFloor(index, said, at);
    if (n) return countClaim(index, said, at, n, items, tellsAFault);
    if (isBound) return null;
    if (index.language.less.some((ending) => text.endsWith(ending) && text.length > ending.length + 2) && !index.ids.has(index.termOf(text))) return () => false; // "flangeless"
    const words = english(index, text).map(fold);
    if (isDenied(index, said, at) && !index.faults.has(index.termOf(text)) && words.some((word) => own(outlines, word) || own(index.language.stuffs, word) || colours.includes(word))) return () => false;
    const shape = words.find((word) => own(outlines, word));
    if (shape) return shapeClaim(index, said, at, shape, tellsAFault);
    const stuff = words.find((word) => own(index.language.stuffs, word));
    if (stuff) return stuffClaim(index, stuff);
    if (words.every((word) => colours.includes(word))) return (which) => words.some((word) => selfOf(index, which).seen.has(index.termOf(word)));
    return /^[a-z]$/.test(text) ? letterClaim(index, said, at, items) : null;
  }

  /** "not white", "not of steel"
   * @param {Index} index @param {Said[]} said @param {number} at */
  function isDenied(index, said, at) {
    const before = said.slice(Math.max(0, at - FURTHEST), at).map(({ text }) => text);
    const denied = before.map((text) => index.language.denied.includes(text)).lastIndexOf(true);
    return denied >= 0 && before.slice(denied).every((text) => index.fillers.has(text) || index.language.denied.includes(text));
  }

  /** "without wing": only where the part says so itself. "nozzle, no air" tells of a fault.
   * @param {Index} index @param {Said[]} said @param {number} at @returns {Claim | null} */
  function lackClaim(index, said, at) {
    const lacked = said.slice(at + 1, at + 1 + FURTHEST).find(({ text }) => !index.fillers.has(text) || countOf(index, text) > 0);
    if (!lacked || /\d/.test(lacked.text)) return null;
    const terms = english(index, lacked.text).map(index.termOf);
    const isOfFault = (/** @type {number} */ which) => terms.some((term) => {
      const id = Number(index.ids.get(term));
      return index.ownWords[which].has(id) && !index.kinds.has(id);
    });
    return (which) => terms.some((term) => selfOf(index, which).pairs.has(`- ${term}`)) || (index.language.none.includes(said[at].text) && isOfFault(which));
  }

  /** Danish "to" and "fire" are numbers before a word of that language alone.
   * @param {Index} index @param {Said[]} said @param {number} at */
  function countOfFloor(index, said, at) {
    const { spoken_inside: inside } = index.language;
    const next = said[at + 1]?.text || "";
    const isOfFloor = own(inside, said[at].text) && next.length > 1 && !index.ids.has(index.termOf(next)) && Boolean(index.floor.length && ofTheFloor(index, next));
    return isOfFloor && inside[said[at].text] > 1 ? inside[said[at].text] : 0;
  }

  /** "three screws": as many of them; "two window knobs" counts the part, "one screw missing" tells of a fault.
   * @param {Index} index @param {Said[]} said @param {number} at @param {number} n @param {Item[]} items @param {boolean} tellsAFault @returns {Claim | null} */
  function countClaim(index, said, at, n, items, tellsAFault) {
    const isPair = items.some((item) => item.size?.kinds?.[0] === "spacing"); // "two slots 72 apart"
    const run = runBehind(index, said, at);
    if (!run.length || (n === 1 && tellsAFault) || (n === 2 && isPair)) return null;
    const terms = run.flatMap((text) => english(index, text)).map(index.termOf);
    const idsOf = (/** @type {string[]} */ texts) => texts.flatMap((text) => english(index, text)).map((text) => Number(index.ids.get(index.termOf(text))));
    const [ids, others] = [idsOf(run), idsOf([...said.slice(0, at), ...said.slice(at + 1 + run.length)].map(({ text }) => text))]; // "frame, two pockets" is one frame
    return (which) => {
      const known = terms.flatMap((term) => selfOf(index, which).counted.get(term) || []);
      if (known.includes(n)) return true;
      const isOwn = (/** @type {number} */ id) => index.ownWords[which].has(id);
      return index.kinds.has(ids[ids.length - 1]) && ids.filter(isOwn).length >= (known.length ? NAMED : 1) && !others.some((id) => index.kinds.has(id) && isOwn(id));
    };
  }

  /** The words that a number counts: up to the next filler, number or fault.
   * @param {Index} index @param {Said[]} said @param {number} at */
  function runBehind(index, said, at) {
    const after = said.slice(at + 1, at + 1 + LONGEST_RUN).map(({ text }) => text);
    const end = after.findIndex((text) => /\d|^.$/.test(text) || index.fillers.has(text) || index.faults.has(index.termOf(text)));
    return end < 0 ? after : after.slice(0, end);
  }

  /** @param {Index} index @param {Said[]} said @param {number} at @param {string} word @param {boolean} tellsAFault @returns {Claim | null} */
  function shapeClaim(index, said, at, word, tellsAFault) {
    const shape = index.language.outlines[word];
    const term = index.termOf(word);
    const behind = said[at + 1] ? english(index, said[at + 1].text).map(fold) : [];
    const next = behind.map(index.termOf);
    const isThing = behind.length > 0 && !behind.some((each) => index.fillers.has(each) || own(index.language.outlines, each) || own(index.language.stuffs, each) || index.language.colours.includes(each));
    const before = said[at - 1]?.text || "";
    if (index.language.parted.includes(before)) return (which) => selfOf(index, which).pairs.has(`${before} ${shape}`);
    const isOfFault = index.faults.has(term) && !next.some((each) => own(index.language.features, each)); // "hook is bent", "closed ring"
    if (isOfFault || index.language.articles.includes(said[at + 1]?.text || "")) return null; // "round the door"
    return (which) => {
      const { whole, pairs, symptoms, told } = selfOf(index, which);
      const kind = SHAPED.get(shape);
      if (next.some((each) => pairs.has(`${shape} ${each}`)) || (tellsAFault && symptoms.has(term))) return true;
      if (isThing && next.some((each) => told.has(each) && !index.ownWords[which].has(Number(index.ids.get(each))))) return false; // "round wing"
      return whole.has(shape)
        || (kind !== undefined && index.features[which].some((feature) => feature.kind === kind));
    };
  }

  /** A part whose material nobody wrote down accounts for none.
   * @param {Index} index @param {string} word @returns {Claim} */
  function stuffClaim(index, word) {
    const { stuffs } = index.language;
    const metals = stuffs.metal.split(" ");
    const holds = (/** @type {string[]} */ material, /** @type {string[]} */ called) => material.some((each) => called.includes(each.replace(/\d+$/, "") || each));
    return (which) => {
      const { material } = selfOf(index, which);
      if (index.ownWords[which].has(Number(index.ids.get(index.termOf(word))))) return true;
      return word === NO_METAL ? material.length > 0 && !holds(material, metals) : holds(material, stuffs[word].split(" "));
    };
  }

  /** A letter by itself belongs to a number, to "L-shaped", or to a text of the part: "C rail".
   * @param {Index} index @param {Said[]} said @param {number} at @param {Item[]} items @returns {Claim | null} */
  function letterClaim(index, said, at, items) {
    const { text } = said[at];
    const next = said[at + 1]?.text || "";
    const isShape = index.language.shaped.includes(next);
    if (!isShape && (index.fillers.has(text) || own(index.language.forms, text) || items.some((item) => item.text.split(/[^a-z0-9]+/).includes(text)))) return null;
    if (isShape) return (which) => [next, ...index.language.shaped].some((word) => selfOf(index, which).pairs.has(`${text} ${index.termOf(word)}`));
    return (which) => selfOf(index, which).told.has(index.termOf(text));
  }

  spares.finder = { ...spares.finder, accounting };
})();
