// Which parts does a query mean? The one ranking of the finder, in the browser and for `spares find`. Pure.
//
//   score = Σ weight(item) · match(item, part) / Σ weight(item)  +  0.08 · share of the part's name that was asked for
//           -  0.06 for a part that is superseded or withdrawn, hardly any where a number was asked for
//
// An item is one thing that the query says; its match with a part lies between 0 and 1:
//   word     how surely the word is meant (itself 1, the depot's spelling 0.97, a synonym 0.88, a beginning, a piece of a
//            compound, a typing slip, an everyday word 0.62) × where it stands (name 1 … what changed 0.4)
//   number   1 for the whole of a number that the part has, less for an end, a beginning, a middle, a near one
//   size     how near the caliper's values lie to different dimensions of the part, in any order; less where the model alone has it
//   fleet, vehicle   1 where the part fits there, else 0; beside anything else they only set back, see grounds.js
// How much each word weighs says worditems.js.
// A part is a sure hit where the score is at least SURE and what was said makes sure of it, see sureness.js; which of the
// three answers it is says answers.js.
(function () {
  "use strict";

  const { batchAsked, rankedBatch, isPiece, ofPiece, fold, pieces, measures, PLAIN, sizeMatches, fitMatches, liftModelled, heard, numberMatches, nearNumbers, unreadNumbers, ofVehicle, sureness, accounting, SAYS_KIND, settled, seenOtherwise, lightHands, onTheFleets, wordItems, wordLike, deniedIn, besideGrounds, offGround, rangeItems, tidy, vehicleOf, MOST_OF_A_RANGE } = spares.finder;

  const LONGEST_QUERY = 240;
  const UNREAD = /^(?=(?:.*[a-z0-9]){3})[a-z0-9/.-]+\?[a-z0-9/.?-]*[a-z0-9]$/;
  const MOST_WORDS = 16;
  const NAME_SHARE = 0.08;
  const AKIN = 0.08;
  /** "Knopf" is a knob before it is the button of a surround. */
  const OF_KIND = 0.03;
  const OVER = 0.06;
  /** Of two with one number, the newer first. */
  const OVER_NUMBERED = 0.004;
  const SURE = 0.62;
  /** From here on a record is found by what else was said. */
  const FOUND = 0.5;
  const SURELY_A_VEHICLE = 100;
  const MOST_UNSURE = 40;
  const NEAR = 0.24;
  const WEIGHT = { size: 1.1, sizes: 1.7, number: 2, piece: 1.2, fleet: 0.75, vehicle: 0.75, bare: 0.7 };

  /** @param {Index} index from `prepare` @param {string} query @param {string} [vehicle] chosen beforehand @returns {Ranked} */
  function rank(index, query, vehicle = "") {
    const batch = batchAsked(index, String(query));
    if (batch && batch.rest !== undefined) {
      const told = besidePiece(index, batch, String(query), vehicle);
      return isPiece(index, batch, batch.rest ? told : { ...told, hits: [] }) ? ofPiece(index, batch, String(query), told) : rankedWords(index, String(query), vehicle);
    }
    if (batch && batch.at >= 0) return { ...rankedBatch(index, batch), ...(batch.meant.length ? { label: batch } : {}) };
    return { ...rankedWords(index, String(query), vehicle), ...(batch ? { label: batch } : {}) };
  }

  /** What the words beside a piece find. A piece alone is no size and no number of a part: it finds the parts whose it may be, or,
   * where nobody can say that, what is surely called so.
   * @param {Index} index @param {LabelAsked} asked @param {string} query @param {string} vehicle @returns {Ranked} */
  function besidePiece(index, { rest, kind, meant, about }, query, vehicle) {
    const words = rankedWords(index, rest || query, vehicle);
    const isAlone = !rest && (meant.length || about?.length || (kind && (kind !== "unlabelled" || words.said !== "this")));
    return isAlone ? { ...words, hits: [], items: [], said: /** @type {Said} */ ("none"), strange: "" } : words;
  }

  /** The same of what names no piece.
   * @param {Index} index @param {string} query @param {string} vehicle @returns {Ranked} */
  function rankedWords(index, query, vehicle) {
    const text = respelled(gaps(heard(tidy(index, query.slice(0, LONGEST_QUERY)), index.language)), index.language);
    const { sizes, rest: told } = measures(text, index.language);
    const { rest: meant, denied } = deniedIn(index, told);
    const { rest, otherwise, akin } = seenOtherwise(index, meant);
    const items = strangers(index, [
      ...sizes.slice(0, 4).map((size) => (size.values.length ? sizeItem(index, size) : shapeItem(index, size))),
      ...restItems(index, withoutFeatures(index, rest).slice(0, 2 * MOST_WORDS), /\s$/.test(text)),
    ].slice(0, MOST_WORDS + MOST_OF_A_RANGE));
    const strange = items.find((item) => item.isStrange)?.text || "";
    const isEmpty = items.every((item) => item.kind === "fleet" || (item.isStrange && item.kind === "vehicle")) && (strange || !items.length);
    const isNamed = items.some((item) => item.kind === "vehicle" || (item.kind === "bare" && item.vehicles?.size)); // and not the carried one
    const { hits, said } = settled(index, isEmpty ? [] : scored(index, items, accounting(index, told, items), akin), items, isNamed ? "" : vehicle, new Set([...otherwise, ...denied]));
    return { hits, items, sure: hits.filter((hit) => hit.sure).length, said, strange };
  }

  /** "70.26..-1" is "70.26??-1": a sign for each that nobody could read.
   * @param {string} query */
  function gaps(query) {
    return query.replace(/(?<=\d)(?:\.{2,}|…|_+)(?=[-/.]?\d)/g, (gap) => "?".repeat(gap === "…" ? 1 : gap.length));
  }

  /** The word of a feature that a size took is no word any more, unless nothing else says what kind of thing it is.
   * @param {Index} index @param {Rest[]} rest */
  function withoutFeatures(index, rest) {
    const saysKind = (/** @type {Rest} */ { text }) => index.kinds.has(Number(index.ids.get(index.termOf(text))));
    const isSaid = rest.some((each) => !each.feature && saysKind(each));
    return rest.filter((each) => !each.feature || (!isSaid && saysKind(each)));
  }

  /** Signs that a language writes inside a word are no ends of words: "l/h" is "lh".
   * @param {string} query @param {Language} language */
  function respelled(query, language) {
    return language.respelled.reduce((text, [find, put]) => text.replace(new RegExp(find, "gi"), put), query);
  }

  /** Every hit that may be shown as one of many, and the best of the others.
   * @param {Index} index @param {Item[]} items @param {(at: number) => boolean} isAccounted whether everything that was said is the part's
   * @param {Set<number>} akin what comes first among equals
   * @returns {Hit[]} best first, then by number */
  function scored(index, items, isAccounted, akin) {
    const total = items.reduce((sum, item) => sum + item.weight, 0);
    const asked = new Set();
    for (const item of items) for (const [id, sure] of item.meant || []) if (sure >= 0.6) asked.add(id);
    const isSure = sureness(index, items, isAccounted);
    const over = items.some((item) => item.kind === "number" || (item.kind === "bare" && item.text.length > 2)) ? OVER_NUMBERED : OVER;
    const scores = sums(index, items, total);
    const told = besideGrounds(items);
    const words = items.filter((item) => item.kind === "word");
    const own = told ? sums(index, told, told.reduce((sum, item) => sum + item.weight, 0)) : scores;
    const off = told ? offGround(items) : () => 0;
    /** @type {Hit[]} */
    const strong = [];
    /** @type {Hit[]} */
    let unsure = [];
    for (let at = 0; at < scores.length; at += 1) {
      if (own[at] < NEAR) continue;
      const name = index.nameTerms[at];
      let shared = 0;
      for (const id of name) if (asked.has(id)) shared += 1;
      const more = (NAME_SHARE * shared) / Math.max(1, name.length) - (index.records[at].over ? over : 0) + (akin.has(at) ? AKIN : 0) + (index.records[at].kind === "part" && words.some((item) => item.says && item.says[at] & SAYS_KIND) ? OF_KIND : 0);
      const score = own[at] - off(at) + more;
      if (Math.max(score, scores[at] + more) >= SURE) strong.push({ at, score, sure: isSure(at) });
      else unsure.push({ at, score, sure: false });
    }
    if (unsure.length > 2 * MOST_UNSURE) unsure = best(unsure);
    const byScore = (/** @type {Hit} */ a, /** @type {Hit} */ b) => b.score - a.score || index.order[a.at] - index.order[b.at];
    return [...strong, ...unsure.sort(byScore).slice(0, MOST_UNSURE)].sort(byScore);
  }

  /** @param {Index} index @param {Item[]} items @param {number} total weight of all items */
  function sums(index, items, total) {
    const scores = new Float64Array(index.records.length);
    for (const { match, weight } of items) {
      const share = weight / total;
      for (let at = 0; at < scores.length; at += 1) scores[at] += share * match[at];
    }
    return scores;
  }

  /** About the MOST_UNSURE best hits, found without sorting them all.
   * @param {Hit[]} hits */
  function best(hits) {
    const bins = new Int32Array(256);
    const bin = (/** @type {Hit} */ hit) => Math.max(0, Math.min(255, Math.floor(hit.score * 200)));
    for (const hit of hits) bins[bin(hit)] += 1;
    let least = 255;
    for (let n = bins[least]; least > 0 && n < MOST_UNSURE; n += bins[least]) least -= 1;
    return hits.filter((hit) => bin(hit) >= least);
  }

  /** @param {Index} index @param {Size} size @returns {Item} */
  function sizeItem(index, size) {
    const match = size.kinds ? fitMatches(index, size) : sizeMatches(index, size);
    const weight = size.values.length > 1 ? WEIGHT.sizes : WEIGHT.size;
    const modelled = liftModelled(index, size, match);
    return { kind: "size", text: size.text, weight, match, least: 0.5, size, modelled };
  }

  /** A shape finds nothing; it only speaks against what has another.
   * @param {Index} index @param {Size} size @returns {Item} */
  function shapeItem(index, size) {
    return { kind: "shape", text: size.named, weight: 0, match: new Float32Array(index.records.length), least: 0, size };
  }

  /** Fleets, vehicles, numbers and words among what is no size.
   * @param {Index} index @param {Rest[]} rest @param {boolean} closed @returns {Item[]} */
  function restItems(index, rest, closed) {
    const chunks = cutUp(index, rest);
    /** @type {Item[]} */
    const items = [];
    /** @type {string[]} */
    let words = [];
    for (let at = 0; at < chunks.length; ) {
      const taken = fleetItem(index, chunks, at) || rangeItems(index, chunks, at, WEIGHT.vehicle) || vehicleItem(index, chunks, at, items) || strangeVehicle(index, chunks, at) || numberRun(index, chunks, at);
      if (taken) {
        items.push(...taken.items);
        at += taken.length + lettered(index, taken.items, chunks.slice(at + taken.length));
      } else {
        words.push(chunks[at].text);
        at += 1;
      }
    }
    words = words.flatMap((word) => pieces(word.replace(/['’]/g, "")));
    return [...items, ...onTheFleets(index, items, lightHands(wordItems(index, words, closed)))];
  }

  /** Chunks with run-together fleets and numbers set apart: "tr4-405", "tr4knob", "0417knob".
   * @param {Index} index @param {Rest[]} rest */
  function cutUp(index, rest) {
    const fleetKeys = [...index.fleetKeys.keys()];
    return rest.flatMap((chunk) => {
      const parts = pieces(fold(chunk.text));
      if (parts.length > 2 && [...numberMatches(index, chunk.text).values()].some((hit) => hit.isWhole)) return [chunk];
      const startsWithFleet = fleetKeys.find((key) => parts[0] && parts[0].startsWith(key));
      if (startsWithFleet && (parts.length > 1 || /^[a-z]{3,}$/.test(parts[0].slice(startsWithFleet.length)))) {
        const more = parts[0].slice(startsWithFleet.length);
        return [startsWithFleet, ...(more ? [more] : []), ...parts.slice(1)].map((text) => ({ text, maybe: maybeSize(text) }));
      }
      const cut = /^(\d{3,})([a-z]{3,})$/.exec(chunk.text) || /^([a-z]{4,})(\d{2,})$/.exec(chunk.text);
      return cut ? cut.slice(1).map((text) => ({ text, maybe: maybeSize(text) })) : [chunk];
    });
  }

  /** @param {string} text */
  function maybeSize(text) {
    return /^\d{1,4}$/.test(text) && Number(text) >= 2 ? Number(text) : null;
  }

  /** "TR4", "tr-4", "TR 4", "TR4s".
   * @param {Index} index @param {Rest[]} chunks @param {number} at */
  function fleetItem(index, chunks, at) {
    const one = pieces(fold(chunks[at].text)).join("");
    const two = chunks[at + 1] ? one + pieces(fold(chunks[at + 1].text)).join("") : "";
    for (const [key, length] of /** @type {[string, number][]} */ ([[two, 2], [one, 1], [one.replace(/s$/, ""), 1]])) {
      const fleet = index.fleetKeys.get(key);
      if (fleet === undefined) continue;
      const match = new Float32Array(index.records.length);
      index.records.forEach((record, which) => {
        if ((record.grounds || []).some((ground) => ground[0] === fleet)) match[which] = 1;
      });
      /** @type {Item} */
      const item = { kind: "fleet", text: index.fleets[fleet].id, weight: WEIGHT.fleet, match, least: 1 };
      return { items: [item], length };
    }
    return null;
  }

  /** "car 403", or a vehicle's number after its fleet.
   * @param {Index} index @param {Rest[]} chunks @param {number} at @param {Item[]} before */
  function vehicleItem(index, chunks, at, before) {
    const word = index.language.vehicles.includes(fold(chunks[at].text));
    const text = (word ? chunks[at + 1]?.text : chunks[at].text) || "";
    const bare = text.replace(/^[#n°o.]+/, "");
    const known = ofVehicle(index, bare);
    const isNamed = word || text.startsWith("#") || /[a-z]/.test(bare); // "b31" is nothing else
    if (!known.size || (!isNamed && !before.some((item) => item.kind === "fleet"))) return null;
    return { items: [vehicleOf(index, bare, WEIGHT.vehicle, known)], length: word ? 2 : 1 };
  }

  /** "car 799", which nobody has; what else the number may be is looked for all the same.
   * @param {Index} index @param {Rest[]} chunks @param {number} at */
  function strangeVehicle(index, chunks, at) {
    const next = chunks[at + 1];
    const text = (next?.text || "").replace(/^[#n°o.]+/, "");
    if (!index.language.vehicles.includes(fold(chunks[at].text)) || !isLikeAVehicle(index, text)) return null;
    const bare = bareItem(index, { ...next, text, maybe: Number(text) }, numberMatches(index, text));
    return { items: [isMet(bare) ? { ...bare, isStrange: true } : strange(bare)], length: 2 };
  }

  /** Of as many digits as the vehicles have, and none of them: one that no part is for is no stranger.
   * @param {Index} index @param {string} text */
  function isLikeAVehicle(index, text) {
    return !text.startsWith("0") && !spares.vehicles.meantBy(text, index.fleets) && spares.vehicles.isLikeOneOf(text, [...index.vehicles.keys()]);
  }

  /** @param {Item} item */
  function isMet(item) {
    return Boolean(item.numbers?.size) || item.match.some((each) => each > 0);
  }

  /** @param {Item} bare @returns {Item} */
  function strange(bare) {
    return { kind: "vehicle", text: bare.text, weight: WEIGHT.vehicle, match: new Float32Array(bare.match.length), least: 1, isStrange: true };
  }

  /** A number that nothing has which is found was meant for a vehicle: alone, with its fleet, or of three digits beside words.
   * @param {Index} index @param {Item[]} items */
  function strangers(index, items) {
    const others = items.filter((item) => item.kind !== "fleet" && item.kind !== "bare");
    const bares = items.filter((item) => item.kind === "bare");
    const isFound = (/** @type {number} */ at) => !others.length || others.some((item) => item.match[at] >= FOUND);
    const isStrange = (/** @type {Item} */ item) => item.kind === "bare" && !item.isStrange && !item.isNoVehicle && !item.vehicles?.size && isLikeAVehicle(index, item.text)
      && (others.length ? Number(item.text) >= SURELY_A_VEHICLE : bares.length === 1)
      && ![...(item.numbers || new Map()).values()].some((hit) => hit.match >= FOUND) && !item.match.some((match, at) => match > 0 && isFound(at));
    return items.map((item) => (isStrange(item) ? strange(item) : item));
  }

  /** Neighbouring pieces of a number, such as "4 221 0093" or "TV 0417": the longest run that any part has.
   * @param {Index} index @param {Rest[]} chunks @param {number} from */
  function numberRun(index, chunks, from) {
    let end = from;
    while (end < chunks.length && end - from < 6 && isNumberPiece(index, chunks[end].text)) end += 1;
    while (end > from && !chunks.slice(from, end).some((chunk) => /\d/.test(chunk.text))) end -= 1;
    if (end === from) return null;
    for (let to = end; to > from; to -= 1) {
      const run = chunks.slice(from, to);
      const joined = run.map((chunk) => chunk.text).join(" ");
      if (!/\d/.test(joined)) continue;
      const whole = run.length > 1 && numberMatches(index, joined);
      if (whole && whole.size && joined.replace(/[^a-z0-9]/g, "").length >= 4) return { items: [numberItem(index, joined, whole)], length: to - from };
      if (run.length === 1) return oneNumber(index, run[0], chunks[from + 1], chunks[from - 1]);
    }
    return null;
  }

  /** The letter of a revision behind a number: what has another is told so and never sure. How many chunks it takes.
   * @param {Index} index @param {Item[]} items @param {Rest[]} behind */
  function lettered(index, items, behind) {
    const letter = behind[0]?.text || "";
    const hits = items.length === 1 ? [...(items[0].numbers || new Map()).values()].filter((hit) => hit.isWhole && hit.number.kind !== "own") : [];
    if (!hits.length || !/^[a-z]$/.test(letter) || Object.prototype.hasOwnProperty.call(index.language.forms, letter)) return 0;
    const endsIn = (/** @type {NumberHit} */ { number }) => (/\d\s?([a-z])$/i.exec(number.text) || ["", ""])[1].toLowerCase();
    const known = hits.filter((hit) => endsIn(hit) || !index.fillers.has(letter) || behind.length === 1); // "S/36660 a hook"
    for (const hit of known) if (endsIn(hit) !== letter) [hit.isWhole, hit.isOther] = [false, true];
    if (known.length) items[0].text += ` ${letter}`;
    return known.length ? 1 : 0;
  }

  /** @param {Index} index @param {string} text */
  function isNumberPiece(index, text) {
    if (/\d/.test(text)) return true;
    return /^[a-z]{1,3}$/.test(text) && index.numberTable.letters.has(text);
  }

  /** @param {Index} index @param {Rest} chunk @param {Rest} [next] @param {Rest} [before] */
  function oneNumber(index, chunk, next, before) {
    // "2 knobs" says how many, "crank 5" how large.
    if (/^\d$/.test(chunk.text) && (chunk.maybe === null || (next && !/\d/.test(next.text)))) return { items: [], length: 1 };
    if (UNREAD.test(chunk.text)) return { items: [numberItem(index, chunk.text, unreadNumbers(index, chunk.text))], length: 1 };
    const found = numberMatches(index, chunk.text);
    const isNoVehicle = spares.vehicles.isOfAnotherKind(before?.text || "", next?.text || "", spares.vehicles.meantBy(chunk.text, index.fleets) !== "");
    if (chunk.maybe !== null) return { items: [bareItem(index, chunk, found, isNoVehicle)], length: 1 };
    if (!found.size && /^\D{0,2}\d{1,2}(\D|$)/.test(chunk.text) && chunk.text.length < 4) return { items: [wordLike(index, chunk.text)], length: 1 };
    return { items: [numberItem(index, chunk.text, found)], length: 1 };
  }

  /** @param {Index} index @param {string} text @param {Map<number, NumberHit>} found @returns {Item} */
  function numberItem(index, text, found) {
    const numbers = found.size ? found : nearNumbers(index, text);
    const match = new Float32Array(index.records.length);
    for (const [at, hit] of numbers) match[at] = hit.match;
    return { kind: "number", text, weight: text.length > 3 ? WEIGHT.number : WEIGHT.piece, match, least: 0.6, numbers };
  }

  /** A bare number may be a piece of a part's number, millimetres, or a vehicle; the best counts.
   * @param {Index} index @param {Rest} chunk @param {Map<number, NumberHit>} found @param {boolean} [isNoVehicle] "DIN 912" @returns {Item} */
  function bareItem(index, chunk, found, isNoVehicle = false) {
    const long = chunk.text.length >= 3;
    const numbers = found.size || chunk.text.length < 4 ? found : nearNumbers(index, chunk.text);
    const maybe = Number(chunk.maybe);
    /** @type {Size} */
    const size = { ...PLAIN, near: chunk.near || "", values: chunk.text.startsWith("0") ? [] : [maybe], exact: Boolean(chunk.exact), caliper: Boolean(chunk.exact), text: chunk.text };
    const match = sizeItem(index, size).match.map((each) => (each > 0.5 ? 0.92 * each : 0));
    for (const [at, hit] of numbers) match[at] = Math.max(match[at], hit.match);
    const vehicles = isNoVehicle ? new Set() : ofVehicle(index, chunk.text);
    for (const at of vehicles) match[at] = Math.max(match[at], 0.7);
    const weight = chunk.text.length > 3 ? WEIGHT.number : long ? WEIGHT.piece : WEIGHT.bare;
    return { kind: "bare", text: chunk.text, weight, match, least: long ? 0.6 : 0.4, numbers, size, vehicles, isNoVehicle };
  }

  spares.finder = { ...spares.finder, rank };
})();
