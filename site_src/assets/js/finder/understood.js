// Is every word beside a known piece understood? Else what was said may be of another piece, or against this one: "B-0150 and the other",
// "neither B-0150 nor the rest", "B-0150 crossed out". Pure.
//
// What makes a piece doubtful has no end, so what is understood is listed: the part's own words, numbers and vehicles, counts, sizes, and the
// few words of the question itself (generator/pages/finder/spoken/: asking, leading, numbering, joining).
(function () {
  "use strict";

  const { fold, numberKey, pieces, tidy, wordItems, SAYS_SO } = spares.finder;
  /** Stands for each piece in a text that is asked about; no letter and no sign that anybody types. */
  const PIECE_SIGN = "\ue000";
  const TOKENS = new RegExp(`${PIECE_SIGN}|[\\p{L}\\p{M}\\p{N}]+(?:[-.,/'’]+[\\p{L}\\p{M}\\p{N}]+)*|[^\\s\\p{L}\\p{M}\\p{N}${PIECE_SIGN}]+`, "gu");
  const SIGNS = /^[-.,;:!?()[\]{}"'„“”‚‘’»«<>=/|·–—_#*\u200b]+$/u;
  const APART = /^[,;.]/;
  const JOINED = /^[&+]+$/;
  const COUNT = /^(?:\d{1,2}|\d{1,2}[x×]|[x×]\d{1,2})$/iu;
  const MEASURED = /^[ø⌀]?\d+(?:[.,]\d+)?(?:[x×]\d+(?:[.,]\d+)?)*(?:mm|cm|m|in|g|kg|n|v|w)?$/iu;
  /** A number of so many digits is a count or a size of a few words; a longer one has to be something that is known. */
  const FEW = 2;
  const MOST_TOKENS = 32;
  const LONGEST_NUMBER = 3;
  const LONGEST_PHRASE = 7;
  const LONGEST_QUESTION = 3;
  const LONGEST_TOLD = 60;

  /** @typedef {{ text: string, key: string, kind: string }} Token kind: "" for what is not understood */
  /** @typedef {{ index: Index, at: number, told: Ranked, revision: string, numbers: Set<string>, phrases: string[][], lists: Record<string, Set<string>> }} Around */

  /** The stretches of a query beside a known piece that say nothing which is understood; none where all of it is.
   * @param {Index} index @param {number} at the record whose piece it is @param {string} marked the query, a `PIECE_SIGN` in the place of each piece
   * @param {string} revision of the piece @param {Ranked} told by the other words @returns {string[]} */
  function notUnderstood(index, at, marked, revision, told) {
    const texts = tidy(index, marked).match(TOKENS) || [];
    if (texts.length > MOST_TOKENS) return [cut(marked.split(PIECE_SIGN).join(" ").trim())];
    const of = around(index, at, revision, told);
    const tokens = texts.map((text) => ({ text, key: fold(text), kind: "" }));
    for (let place = 0; place < tokens.length; ) place += taken(of, tokens, place);
    once(tokens);
    const isDoubtful = tokens.map((_token, place) => !holds(tokens, place));
    return runs(tokens, isDoubtful);
  }

  /** @param {Index} index @param {number} at @param {string} revision @param {Ranked} told @returns {Around} */
  function around(index, at, revision, told) {
    const { record, language } = { record: index.records[at], language: index.language };
    const texts = [record.name, ...(record.other_names || []), ...(record.symptoms || []), record.purpose || "", ...(record.looks || [])];
    const list = (/** @type {string[]} */ words) => new Set(words.map((each) => each.split(" ").map(fold).join(" "))); // "all right"
    return {
      index, at, told, revision, numbers: new Set(index.numbers.filter((number) => number.at === at).flatMap(({ key, short }) => [key, short])), phrases: texts.map((text) => pieces(text).map(fold)),
      lists: { asking: list(language.asking), leading: list(language.leading), calling: list(language.vehicles), numbering: list(language.numbering), denying: list([...language.denied, ...language.lacking]), joining: list(language.joining) },
    };
  }

  /** Gives the tokens from a place on their kind. How many it is.
   * @param {Around} of @param {Token[]} tokens changed in place @param {number} place */
  function taken(of, tokens, place) {
    const end = tokens.findIndex(({ text }, at) => at >= place && !/[\p{L}\p{N}]/u.test(text)); // none runs over a sign or a piece
    const run = tokens.slice(place, end < 0 ? tokens.length : end);
    const asking = longest(run, LONGEST_QUESTION, (words) => words.length > 1 && of.lists.asking.has(words.map(({ key }) => key).join(" ")));
    if (asking) for (const token of run.slice(0, asking)) token.kind = "asking";
    if (asking) return asking;
    const number = longest(run, LONGEST_NUMBER, (words) => isNumber(of, words));
    const phrase = number ? 0 : longest(run, LONGEST_PHRASE, (words) => isPhrase(of, words));
    const fleet = number || phrase ? 0 : longest(run, 2, (words) => of.index.fleetKeys.has(words.map(({ key }) => key).join("")));
    const kind = number ? "number" : phrase ? "phrase" : fleet ? "vehicle" : kindOf(of, tokens, place);
    const length = number || phrase || fleet || 1;
    for (const token of tokens.slice(place, place + length)) token.kind = kind;
    return length;
  }

  /** How many of the first of a run are one.
   * @param {Token[]} run @param {number} most @param {(words: Token[]) => boolean} isOne */
  function longest(run, most, isOne) {
    for (let n = Math.min(most, run.length); n > 0; n -= 1) if (isOne(run.slice(0, n))) return n;
    return 0;
  }

  /** @param {Around} of @param {Token[]} run */
  function isNumber({ numbers }, run) {
    const key = numberKey(run.map(({ text }) => text).join(" "));
    return key.length > FEW && numbers.has(key) && /\d/.test(run[0].text + run[run.length - 1].text);
  }

  /** Words that stand so in a text of the part: "does not turn".
   * @param {Around} of @param {Token[]} run */
  function isPhrase({ phrases, index }, run) {
    const words = run.flatMap(({ text }) => pieces(text)).map(fold);
    const isOf = (/** @type {string[]} */ told) => told.some((_word, from) => words.every((word, nth) => told[from + nth] === word));
    return words.length > 1 && words.some((word) => !index.fillers.has(word)) && phrases.some(isOf);
  }

  /** @param {Around} of @param {Token[]} tokens @param {number} place */
  function kindOf(of, tokens, place) {
    const { text, key } = tokens[place];
    if (text === PIECE_SIGN) return "piece";
    if (JOINED.test(text)) return "joining";
    if (!/[\p{L}\p{M}\p{N}]/u.test(text)) return SIGNS.test(text) ? "sign" : "";
    if (text === of.revision || (text.toUpperCase() === of.revision && tokens[place - 1]?.key.startsWith("rev"))) return "revision";
    const list = Object.keys(of.lists).find((name) => of.lists[name].has(key));
    if (list) return list;
    return /\d/.test(text) ? kindOfNumber(of, tokens, place) : wordsOf(of, text);
  }

  /** @param {Around} of @param {Token[]} tokens @param {number} place */
  function kindOfNumber({ index, at, told }, tokens, place) {
    const { text } = tokens[place];
    const [unit, inside] = [tokens[place + 1]?.key || "", text.split(/[-–/]/)];
    const { fleets } = index;
    if (inside.every((each) => spares.vehicles.meantBy(each, fleets) || fleets.some((fleet) => spares.vehicles.isLikeOneOf(each, fleet.vehicles)))) return "vehicle";
    if (COUNT.test(text)) return "count";
    if (!MEASURED.test(text)) return "";
    const isSize = !/^\d+$/.test(text) || own(index.language.units, unit) || index.language.by.includes(unit);
    return isSize || told.items.some((item) => item.text.includes(text) && item.match[at] > 0) ? "size" : "";
  }

  /** @param {Around} of @param {string} text */
  function wordsOf({ index, at }, text) {
    const [unit, number] = [fold(text), index.language.spoken[fold(text)]];
    if (own(index.language.units, unit) || index.language.by.includes(unit)) return "unit";
    if (number > 1) return "count";
    const items = wordItems(index, pieces(text), true);
    return items.length && items.every((item) => item.match[at] > 0 && item.says && item.says[at] & SAYS_SO) ? "word" : "";
  }

  /** @param {object} record @param {string} key */
  const own = (record, key) => Object.prototype.hasOwnProperty.call(record, key);

  /** The part's number said again, or a word of it in another stretch, is of another piece: "knob B-0150, knob".
   * @param {Token[]} tokens changed in place */
  function once(tokens) {
    const most = tokens.filter(({ kind }) => kind === "piece").length;
    /** @type {Map<string, number>} */
    const stretches = new Map();
    let [stretch, isBehind] = [0, false];
    for (const token of tokens) {
      isBehind = isBehind || token.kind === "piece";
      if (isBehind && APART.test(token.text)) stretch += 1;
      const isNumber = token.kind === "number";
      const before = stretches.get(token.key) ?? -1;
      if (isNumber && before + 1 >= most) token.kind = "";
      if (token.kind === "word" && most === 1 && before >= 0 && before < stretch) token.kind = "";
      stretches.set(token.key, isNumber ? before + 1 : stretch);
    }
  }

  /** Whether a token stands where its kind may.
   * @param {Token[]} tokens @param {number} place */
  function holds(tokens, place) {
    const { kind } = tokens[place];
    const next = tokens.slice(place + 1).find((token) => token.kind !== "sign");
    const before = tokens.slice(0, place).reverse().find((token) => token.kind !== "sign");
    const led = tokens.slice(place + 1).find((token) => !["sign", "leading", "calling"].includes(token.kind));
    if (kind === "joining") return ["vehicle", "calling"].includes(next?.kind || "") || (before?.kind === "word" && next?.kind === "word");
    if (kind === "denying") return led?.kind === "vehicle"; // "not 405"
    if (kind === "numbering") return ["piece", "number", "vehicle", "count", "size"].includes(next?.kind || "");
    if (kind === "unit") return ["count", "size", "vehicle"].includes(before?.kind || "");
    if (kind !== "leading" && kind !== "calling") return kind !== "";
    return led !== undefined && !["", "joining"].includes(led.kind);
  }

  /** @param {Token[]} tokens @param {boolean[]} isDoubtful @returns {string[]} what stands together in one */
  function runs(tokens, isDoubtful) {
    /** @type {string[][]} */
    const found = [];
    tokens.forEach(({ text }, place) => {
      if (!isDoubtful[place]) return;
      if (place && isDoubtful[place - 1]) found[found.length - 1].push(text);
      else found.push([text]);
    });
    return found.map((words) => cut(words.join(" ")));
  }

  /** @param {string} text */
  const cut = (text) => (text.length > LONGEST_TOLD ? `${text.slice(0, LONGEST_TOLD)}…` : text);

  spares.finder = { ...spares.finder, notUnderstood, PIECE_SIGN };
})();
