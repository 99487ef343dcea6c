// Which pieces does a query name among other words? However they are written: "B 0012", "(b0012)", "vane-B-0012", "batch 12". Pure.
//
// Only a batch as a label writes it is taken for it. What has the letters of the batches here, looks like one, holds one or is
// called one is a piece all the same, though nobody can say which: it is asked about. What is a number that a part has, a
// vehicle or a size is none. Digits that are only called a piece's (loosely.js) are of a batch that there is, or of none.
(function () {
  "use strict";

  const { PIECE_SIGN, asDigits, behindNumbers, brief, deniedPiece, doubtedPiece, fold, gapped, goesOn, heard, numberKey, numberMatches, numbered, revisionsIn, shortNumberKey, someBatch, spaced, stuttered, tidy, unlabelled } = spares.finder;
  const { looks, squashed } = spares.labels;
  const SIGNS = "-+.:/'~_#\u00b7\u00df\u00ad\u2010-\u2015\u2043\u2212\ufe63";
  const NOT_INSIDE = "(?<![\\p{L}\\p{N}])";
  const NOT_A_SIZE = "(?![\\p{L}\\p{N}]|[.,]\\d|\\s*(?:mm|cm|x|×|\"|″|°)(?!\\p{L}))";
  const WRITTEN = new RegExp(`${NOT_INSIDE}((?:(?!\u00df)\\p{L}){1,4})(\\s?[${SIGNS}]?\\s?)([0-9]{1,8})${NOT_A_SIZE}`, "giu");
  /** What a hand writes before a batch, in the three languages: it is called one, whatever follows. */
  const CALLED = new RegExp(`${NOT_INSIDE}(?:batch|lot|los|losnummer|charge|chargennummer|serie|serial|serienummer|parti|partinummer|materialeparti)[\\s.:#=-]*(?:(?:no|nr|number|nummer)[\\s.:#=-]*)?(?=[a-z]*[0-9])([0-9oilsbz]{1,8})${NOT_A_SIZE}`, "giu");
  /** "B-151A": a letter behind, which no label has; "B120 mm" and "B120x40" are sizes. */
  const TAILED = new RegExp(`${NOT_INSIDE}((?:(?!\u00df)\\p{L}){1,4})(\\s?[${SIGNS}]?\\s?)([0-9]{1,8})(?!(?:mm|cm|m|in|er)(?!\\p{L}))\\p{L}{1,2}(?![\\p{L}\\p{N}]|[.,]\\d|\\s*[\"\u2033\u00b0])`, "giu");
  /** A lot or a recall, called one or with its letters. */
  const THING = new RegExp(`${NOT_INSIDE}(?:((?:lot|charge|charges|chargennummer|partinummer|parti|materialeparti|recall|rückruf|tilbagekaldelse)[\\s.:#=-]*(?:(?:no|nr|number|nummer)[\\s.:#=-]*)?))?(?:(?<![\\p{L}])((?:(?!\u00df)\\p{L}){1,4})(\\s?[${SIGNS}]?\\s?))?([0-9]{1,8})${NOT_A_SIZE}`, "giu");
  const HYPHEN = /[-\u2010-\u2015\u2212]/u;
  const DIMENSION = /(?<![\p{L}\p{N}])[hltwdø]\s?\d{1,4}(?![\p{L}\p{N}])/iu;
  /** A word of digits, some of them written as letters; a letter may follow. */
  const BARE = /^[^\p{L}\p{N}]*([0-9OILSBZ]*[0-9][0-9OILSBZ]*)(?:[^\p{L}\p{N}]+\p{L}{0,4})?$/iu;
  /** "B-0012/13" is more than one. */
  const GOES_ON = new RegExp(`^\\s?[${SIGNS}&]\\s?[0-9]\\S*`, "u");
  const WORD = /(?:[^\s,;|\u00b7]|(?<=(?<!\d)\d),(?=\d))+/gu;
  const APART = /[\s,;|\u00b7/()]+/u;
  const RUN = /([A-Z]+)([0-9]{1,8})/g;
  const LETTERS = 4;
  /** As many digits without a sign before them are a number, fewer a size: "B 2". */
  const DIGITS = 3;
  const LONGEST = 2000;

  /** What stands behind a piece, without a question of several words: the "i" of "i orden" is no revision.
   * @param {Index} index @param {string} behind */
  function withoutQuestion(index, behind) {
    const said = fold(behind.trimStart()).split(/[^\p{L}]+/u);
    const question = index.language.asking.map((each) => each.split(" ").map(fold)).find((words) => words.length > 1 && words.every((word, at) => said[at] === word));
    return question ? behind.trimStart().split(/\s+/).slice(question.length).join(" ") : behind;
  }

  /** @param {Index} index @param {string} query @param {Batches} batches
   * @returns {ReturnType<FinderRoom["mentioned"]>} each piece once, the known ones first, the words next to these, what else was said, and the same with a sign for each piece */
  function mentioned(index, query, batches) {
    const text = asDigits(query.slice(0, LONGEST).normalize("NFKC"), index.language);
    const of = { index, ...batches };
    /** @type {Named[]} */
    const found = [];
    const add = (/** @type {Named | null} */ each) => {
      const told = each && !each.kind ? withoutDenied(text, each) : each;
      if (told && !found.some((other) => told.from < other.to && other.from < told.to)) found.push(told);
    };
    const addUnread = (/** @type {{ from: number, to: number, text: string }[]} */ some) => { for (const each of some) if (!isOtherwise(of, each.text)) add({ ...each, batch: "", meant: [], kind: "unlabelled" }); };
    for (const each of spaced(text)) add(inGroups(of, text, each));
    addUnread(gapped(text, of.letters));
    for (const { name, form } of batches.suppliers) for (const match of text.matchAll(form)) add(ofSupplier(of, name, match));
    for (const match of text.matchAll(THING)) add(ofThing(of, match));
    for (const match of text.matchAll(WRITTEN)) add(asWritten(of, match));
    for (const match of text.matchAll(TAILED)) add(withTail(of, match));
    for (const match of text.matchAll(CALLED)) add(withDigits(of, match[1], { from: Number(match.index), to: Number(match.index) + match[0].length, text: match[1] }));
    for (const each of stuttered(text)) add(withOneTooMany(of, each));
    for (const each of numbered(text)) add(loose(of, each));
    for (const each of behindNumbers(text)) add(besideNumber(of, text, each));
    for (const each of brief(text)) add(tooBrief(of, each));
    addUnread(unlabelled(text));
    const words = [...text.matchAll(WORD)].map((match) => ({ from: Number(match.index), to: Number(match.index) + match[0].length, text: match[0] }));
    words.forEach((word, at) => add(likeOne(of, word) || (words[at + 1] && likeOne(of, { from: word.from, to: words[at + 1].to, text: text.slice(word.from, words[at + 1].to) }, true)) || bareDigits(of, word)));
    if (!found.length) add(holding(of, { from: 0, to: 0, text: heard(tidy(index, text), index.language) }));
    if (!found.length) addUnread(someBatch(text).slice(0, 1));
    if (!found.length) for (const each of revisionsIn(text).slice(0, 1)) add({ ...each, batch: "", meant: [], kind: "unlabelled" });
    doubt(text, found);
    const key = (/** @type {Named} */ { batch, text: said }) => batch || squashed(said);
    const named = [...new Map([...found.filter((each) => each.batch), ...found.filter((each) => !each.batch)].map((each) => [key(each), each])).values()];
    const marked = found.sort((one, other) => other.from - one.from).reduce((left, { from, to }) => `${left.slice(0, from)} ${PIECE_SIGN} ${left.slice(to)}`, text);
    const rest = marked.split(` ${PIECE_SIGN} `).join(" ");
    const beside = found.filter((each) => each.batch).flatMap(({ from, to }) => [text.slice(0, from).split(APART).filter(Boolean).pop() || "", withoutQuestion(index, text.slice(to)).split(APART).find(Boolean) || ""]);
    return { named, beside, rest: /[\p{L}\p{N}]/u.test(rest) ? rest.trim() : "", marked };
  }

  /** @typedef {Batches & { index: Index }} Of */

  /** Letters and digits as a batch has them.
   * @param {Of} of @param {RegExpMatchArray} match @returns {Named | null} */
  function asWritten(of, match) {
    const [text, letters, between, digits] = match;
    const batch = `${letters.toUpperCase()}-${digits}`;
    const at = { from: Number(match.index), to: Number(match.index) + text.length, text };
    const behind = String(match.input).slice(at.to);
    const [more] = GOES_ON.exec(behind) || [""];
    const next = furtherOne(of, letters.toUpperCase(), digits, behind);
    const length = Math.max(more.length, next?.length || 0);
    if (of.owners.has(batch) && next) return { from: at.from, to: at.to + length, text: `${batch}, ${next.name}`, batch: "", meant: [batch, next.name], isTwo: true };
    if (of.owners.has(batch)) return length ? { from: at.from, to: at.to + length, text: text + behind.slice(0, length), batch: "", meant: [batch] } : { ...at, text: batch, batch, meant: [] };
    if (isOtherwise(of, text)) return null;
    if (!of.letters.has(letters.toUpperCase())) return /^\S?$/.test(between) ? bareDigits(of, { ...at, text: digits }, text) : null;
    if (!between.trim() && digits.length < of.fewest && DIMENSION.test(String(match.input))) return null; // "B 120 H 40"
    const isLike = of.shapes.has(`${letters.toUpperCase()}${digits.length}`) || digits.length >= DIGITS || between.trim() !== "";
    const meant = ofDigits(of, digits, letters);
    return isLike || meant.length ? { ...at, batch: "", meant } : null;
  }

  /** "B-0150 and 51", "B-0150..52": the batch that goes on behind one, where there is such a one.
   * @param {Of} of @param {string} letters @param {string} digits @param {string} behind @returns {{ name: string, length: number } | null} */
  function furtherOne(of, letters, digits, behind) {
    const next = goesOn(behind);
    if (!next || spares.vehicles.meantBy(next.digits, of.index.fleets)) return null;
    const name = `${letters}-${digits.slice(0, -next.digits.length)}${next.digits}`;
    return of.owners.has(name) ? { name, length: next.length } : null;
  }

  /** Letters, or the word for a batch, and groups of digits that are the number of one when they are put together.
   * @param {Of} of @param {string} text @param {ReturnType<FinderRoom["spaced"]>[number]} said @returns {Named | null} */
  function inGroups(of, text, { from, letters, groups, ends }) {
    if ((letters && !of.letters.has(letters)) || of.owners.has(`${letters}-${groups[0]}`) || DIMENSION.test(text)) return null;
    for (let n = groups.length; n > 1; n -= 1) {
      const meant = ofDigits(of, groups.slice(0, n).join(""), letters);
      if (meant.length && ofDigits(of, groups[0], letters).length === 0) return { from, to: ends[n - 1], text: text.slice(from, ends[n - 1]), batch: "", meant };
    }
    return null;
  }

  /** "0B-151", "BB-151".
   * @param {Of} of @param {ReturnType<FinderRoom["stuttered"]>[number]} said @returns {Named | null} */
  function withOneTooMany(of, { letters, alone, digits, ...at }) {
    if (!of.letters.has(letters) || digits.length < DIGITS || isOtherwise(of, at.text)) return null;
    const meant = [...new Set([...ofDigits(of, digits, letters), ...ofDigits(of, alone, letters)])];
    return meant.length ? { ...at, batch: "", meant } : null;
  }

  /** Digits that are called a piece's, where a batch has them; a vehicle's are the vehicle's.
   * @param {Of} of @param {LooseDigits} said @returns {Named | null} */
  function loose(of, { digits, ...at }) {
    const meant = ofDigits(of, digits);
    if (!meant.length || spares.vehicles.meantBy(digits, of.index.fleets) || isOtherwise(of, digits)) return null;
    const isNumber = [...numberMatches(of.index, digits).values()].some(({ isWhole }) => isWhole);
    return { ...at, batch: "", meant, isNumber };
  }

  /** The same right behind the number of a part: "TV-0417/151", "TV-0417 (151)"; not its own size.
   * @param {Of} of @param {string} text @param {LooseDigits & { before: string }} said @returns {Named | null} */
  function besideNumber(of, text, { before, ...said }) {
    const at = partBefore(of, before);
    const run = `${/\S*$/.exec(text.slice(0, said.to))?.[0] || ""}${/^\S*/.exec(text.slice(said.to))?.[0] || ""}`;
    if (at < 0 || DIMENSION.test(text) || isOtherwise(of, run)) return null;
    const isItsSize = (of.index.records[at].box_mm || []).some((mm) => Math.abs(mm - Number(said.digits)) <= 1);
    return isItsSize ? null : loose(of, said);
  }

  /** "TV-0417 B 15": a batch's letters behind the number of a part, and too few digits; those that begin so are meant.
   * @param {Of} of @param {ReturnType<FinderRoom["brief"]>[number]} said @returns {Named | null} */
  function tooBrief(of, { before, letters, digits, ...said }) {
    const at = of.letters.has(letters) && !DIMENSION.test(before) ? partBefore(of, before) : -1;
    if (at < 0 || isOtherwise(of, said.text) || spares.vehicles.meantBy(letters + digits, of.index.fleets)) return null;
    const own = (of.index.records[at].batches || []).map(([name]) => name);
    return { ...said, batch: "", meant: own.filter((name) => name.startsWith(`${letters}-`) && String(Number(name.split("-")[1])).startsWith(String(Number(digits)))) };
  }

  /** The part whose number a text ends with, a revision behind it or not; -1 for none.
   * @param {Of} of @param {string} before */
  function partBefore({ index }, before) {
    const words = before.replace(/[^\p{L}\p{N}]+$/u, "").split(/[\s,;()|]+/).slice(-4);
    const told = /^[A-Za-z]{1,2}$/.test(words[words.length - 1] || "") ? [words, words.slice(0, -1)] : [words];
    for (const each of told) {
      for (const n of [1, 2]) {
        const key = numberKey(each.slice(-n).join(" "));
        if (key.length < DIGITS || !index.numberTable.key.text.includes(`\n${key}\n`)) continue;
        const own = index.numbers.find((number) => number.key === key && index.records[number.at].kind === "part");
        if (own) return own.at;
      }
    }
    return -1;
  }

  /** Of one piece that nobody is sure of, nothing is known but which one may be meant.
   * @param {string} text @param {Named[]} found changed in place */
  function doubt(text, found) {
    const told = found.length === 1 && found[0].batch ? doubtedPiece(text, found[0]) : null;
    if (told) found[0] = { ...told, batch: "", meant: [found[0].batch], isDoubted: true };
  }

  /** A number as a batch has it, with a letter or two behind it.
   * @param {Of} of @param {RegExpMatchArray} match @returns {Named | null} */
  function withTail(of, match) {
    const [text, letters, between, digits] = match;
    if (!of.letters.has(letters.toUpperCase()) || isOtherwise(of, text) || (!between.trim() && spares.vehicles.meantBy(letters + digits, of.index.fleets))) return null;
    const isLike = between.trim() !== "" || (digits.length >= DIGITS && !/\s/.test(between)) || of.shapes.has(`${letters.toUpperCase()}${digits.length}`);
    return isLike ? { from: Number(match.index), to: Number(match.index) + text.length, text, batch: "", meant: ofDigits(of, digits, letters) } : null;
  }

  /** A lot or a recall, of which a piece may be: which one is asked.
   * @param {Of} of @param {RegExpMatchArray} match @returns {Named | null} */
  function ofThing(of, match) {
    const [text, called = "", written = "", between = "", digits] = match;
    const letters = written.toUpperCase();
    const isMeant = (/** @type {string} */ name) => {
      const [own, , number] = /^(\D*?)([-.]?)(\d+)$/.exec(name)?.slice(1) || [];
      const isSure = called || HYPHEN.test(between) || number === digits || letters.length > 1; // "L 40" is a length
      return Number(number) === Number(digits) && (letters ? own === letters : called !== "") && isSure && (called || between.trim() || digits.length >= DIGITS || letters.length > 1);
    };
    const isCalledSo = (/** @type {ThingRow} */ thing) => letters !== "" || thing.is_recall === /^(?:recall|rückruf|tilbage)/i.test(called);
    const names = [...of.things].filter(([name, thing]) => isMeant(name) && isCalledSo(thing)).map(([name]) => name);
    if (of.owners.has(`${letters}-${digits}`) || (!called && isOtherwise(of, text))) return null;
    const at = { from: Number(match.index), to: Number(match.index) + text.length, batch: "" };
    const things = names.map((name) => /** @type {ThingRow} */ (of.things.get(name)));
    if (names.length) return { ...at, text: names.join(", "), meant: things.flatMap((each) => each.batches), kind: things.some((each) => each.is_stopped) ? "stopped" : "lot" };
    const isLike = of.thingShapes.has(`${letters}${digits.length}`) && (between.trim() || called || digits.startsWith("0"));
    return isLike && !of.letters.has(letters) ? { ...at, text: text.trim(), meant: [], kind: "lot" } : null;
  }

  /** A stopped lot by its supplier's number, which may as well be a vehicle's or a part's where nothing calls it a lot's.
   * @param {Of} of @param {string} name @param {RegExpMatchArray} match @returns {Named | null} */
  function ofSupplier(of, name, match) {
    const [text] = match;
    if (/^[0-9]+$/.test(text) && (spares.vehicles.meantBy(text, of.index.fleets) || isOtherwise(of, text))) return null;
    return { from: Number(match.index), to: Number(match.index) + text.length, text: name, batch: "", meant: of.things.get(name)?.batches || [], kind: "stopped" };
  }

  /** "Not B-0150" is a piece, though not that one.
   * @param {string} text @param {Named} each @returns {Named} */
  function withoutDenied(text, each) {
    const denied = deniedPiece(text, each);
    return denied ? { ...denied, batch: "", meant: [], about: each.batch ? [each.batch] : each.meant, isDoubted: true } : each;
  }

  /** Digits that are called a batch.
   * @param {Of} of @param {string} digits @param {{ from: number, to: number, text: string }} at @returns {Named} */
  function withDigits(of, digits, at) {
    return { ...at, batch: "", meant: ofDigits(of, looks(digits)) };
  }

  /** The batches here of that number, however many zeros stand before it; with these letters, if any.
   * @param {Of} of @param {string} digits @param {string} [letters] */
  const ofDigits = (of, digits, letters = "") => of.names.filter((name) => {
    const [own, number] = name.split("-");
    return Number(number) === Number(digits) && (!letters || own === letters.toUpperCase());
  });

  /** Digits that nobody calls anything, as many as a batch has, with the zeros that no size or vehicle is written with; behind other
   * letters, or where they may be the number of a part, only those of a known one.
   * @param {Of} of @param {{ from: number, to: number, text: string }} word @param {string} [whole] with the letters @returns {Named | null} */
  function bareDigits(of, word, whole = "") {
    const digits = looks((BARE.exec(word.text) || ["", ""])[1]);
    if (!/^0\d{2,7}$/.test(digits) || isOtherwise(of, word.text) || spares.vehicles.meantBy(digits, of.index.fleets) || ![...of.letters].some((letters) => of.shapes.has(`${letters}${digits.length}`))) return null;
    const meant = of.names.filter((name) => name.split("-")[1] === digits);
    const isNumber = (!whole || /^[a-z]/i.test(whole)) && [...numberMatches(of.index, whole || digits).values()].some(({ isWhole }) => isWhole);
    return (isNumber || whole) && !meant.length ? null : { ...word, text: whole || word.text, batch: "", meant, isNumber };
  }

  /** A letter for a digit or the other way round, or a known batch within a longer word. Two words are one only where the first
   * begins a batch.
   * @param {Of} of @param {{ from: number, to: number, text: string }} word @param {boolean} [isTwo] @returns {Named | null} */
  function likeOne(of, word, isTwo = false) {
    const typed = looks(word.text);
    const isMixed = /[a-z]/i.test(word.text.normalize("NFKC")) && /[0-9]|[a-z][^a-z0-9\s][a-z]/i.test(word.text);
    if (typed.length < DIGITS || isOtherwise(of, word.text) || (isTwo && !/^[a-z0-9]{1,4}\s/i.test(word.text))) return null;
    const isOne = isMixed || (!isTwo && /^\d+[^\d\s]?\d+[^\p{L}\p{N}]*$/u.test(word.text));
    const meant = isOne ? of.alike.filter(([, whole, bared]) => whole === typed || (isMixed && !isTwo && bared === typed)).map(([name]) => name) : [];
    if (meant.length) return { ...word, batch: "", meant };
    return isTwo ? null : holding(of, word);
  }

  /** A known batch that stands within a text: "vaneB0012", "B-0012x".
   * @param {Of} of @param {{ from: number, to: number, text: string }} word @returns {Named | null} */
  function holding(of, word) {
    if (isOtherwise(of, word.text)) return null;
    const meant = [...squashed(word.text).matchAll(RUN)].flatMap(([, letters, digits]) => (
      Array.from({ length: Math.min(LETTERS, letters.length) }, (_one, nth) => `${letters.slice(-1 - nth)}-${digits}`).filter((name) => of.owners.has(name))));
    return meant.length ? { ...word, batch: "", meant } : null;
  }

  /** The number of a part, or the beginning of one, or a fleet.
   * @param {Of} of @param {string} text */
  function isOtherwise({ index, numbers }, text) {
    const said = squashed(text);
    if (index.fleets.some(({ id }) => squashed(id) === said)) return true;
    const { key, short } = index.numberTable;
    if (key.text.includes(`\n${numberKey(text)}\n`) || short.text.includes(`\n${shortNumberKey(text)}\n`)) return true;
    return numbers.some((number) => number.startsWith(said));
  }

  spares.finder = { ...spares.finder, mentioned };
})();
