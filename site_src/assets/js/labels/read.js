// What does a label say, typed or scanned: the part's number, its revision and the batch? And does it agree with the part that is
// asked about? Pure; records/labels.py says it in Python, and tests/rules/labels.json holds both.
(function () {
  "use strict";

  const { asBatch, batchAmong, labelsAlike, lookAlike, looks, squashed, tidied } = spares.labels;
  const BATCH = "([A-Z]{1,4}) ?([0-9]{1,8})";
  const REVISION = "(?:REV(?:ISION)?\\.? ?)?([A-Z0-9]{1,4})";
  const WHOLE_BATCH = /^[A-Z]{1,4}-?[0-9]{1,8}$/;
  const MOST_REVISION = 4;
  const LONGEST = 200;
  /** Words that a hand writes before what a label says. */
  const WORDS = /\b(?:REV|BATCH|LOS|SERIE)\b\.?/g;

  /** Apart from the signs between them.
   * @param {string} text */
  const apart = (text) => tidied(text).replace(WORDS, " ").replace(/[-+.·,;:|/()'~]+/g, " ").replace(/\s+/g, " ").trim();

  /** Of the address that a label's code holds.
   * @param {string} text @returns {LabelSaid | null} */
  function inAddress(text) {
    const batch = /[?#&]batch=([^&#\s]+)/i.exec(text);
    if (!batch) return null;
    const page = /\/parts\/([^/?#\s]+?)(?:\.html)?\/?[?#]/i.exec(text);
    try {
      return { number: page ? decodeURIComponent(page[1]).toUpperCase() : "", revision: "", batch: asBatch(decodeURIComponent(batch[1])) };
    } catch {
      return null; // cut off within a sign
    }
  }

  /** The batches that an address asks for, where these are more than one.
   * @param {string} text @returns {string[]} */
  function twoInAddress(text) {
    const asked = [...text.matchAll(/[?#&]batch=([^&#\s]+)/gi)].map(([, batch]) => decoded(batch));
    const found = [...new Set(asked.map((batch) => asBatch(batch) || tidied(batch)).filter(Boolean))];
    return found.length > 1 ? found : [];
  }

  /** @param {string} text */
  function decoded(text) {
    try {
      return decodeURIComponent(text);
    } catch {
      return text; // cut off within a sign
    }
  }

  /** Words in one, with a hyphen left where digits would run into digits: "TV-01 05" is not TV-0105.
   * @param {string[]} words */
  const joined = (words) => words.join(" ").replace(/([0-9]) (?=[0-9])/g, "$1-").replace(/ /g, "");

  /** What was scanned twice is one label.
   * @param {string} text */
  function once(text) {
    const words = text.length > LONGEST ? [] : apart(text).split(" ");
    const half = words.slice(0, words.length / 2);
    return words.length % 2 === 0 && half.length && half.join(" ") === words.slice(half.length).join(" ") ? half.join(" ") : text;
  }

  /** The words of a text without those that are the number of a part, wherever they stand and however they are cut.
   * @param {string[]} words @param {string} number @returns {string[] | null} null where they do not say it */
  function without(words, number) {
    const sign = joined(apart(number).split(" "));
    for (let from = 0; sign && from < words.length; from += 1) {
      for (let to = from + 1; to <= words.length; to += 1) {
        const said = joined(words.slice(from, to));
        if (said === sign || (to === from + 1 && said === squashed(number))) return [...words.slice(0, from), ...words.slice(to)];
        if (said.length >= sign.length) break;
      }
    }
    return null;
  }

  /** What stands beside the number: revision and batch in either order, or the batch alone.
   * @param {string} rest @param {string} number @returns {LabelSaid | null} */
  function besides(rest, number) {
    const last = new RegExp(`^${REVISION} ${BATCH}$`).exec(rest);
    if (last) return { number, revision: last[1], batch: `${last[2]}-${last[3]}` };
    const first = new RegExp(`^${BATCH}(?: ${REVISION})?$`).exec(rest);
    return first && { number, revision: first[3] || "", batch: `${first[1]}-${first[2]}` };
  }

  /** Revision and batch without a blank between them: where one alone of the ways to cut them is a batch that is known, or
   * has the letters of those that are.
   * @param {string} rest letters and digits @param {string} number @param {string[]} names @returns {LabelSaid | null} */
  function closeUp(rest, number, names) {
    const told = rest.replace(/^REV(?:ISION)?(?=[A-Z0-9]{2})/, "");
    const cuts = Array.from({ length: MOST_REVISION + 1 }, (_one, at) => ({ number, revision: told.slice(0, at), batch: asBatch(told.slice(at)) })).filter((each) => each.batch);
    const known = cuts.filter((each) => batchAmong(each.batch, names));
    const letters = new Set(names.map((name) => name.split("-")[0]));
    const likely = known.length ? known : cuts.filter((each) => letters.has(each.batch.split("-")[0]));
    return likely.length === 1 ? likely[0] : null;
  }

  /** A label without any blank: the number first, or the batch.
   * @param {string} said letters and digits @param {string} number @param {string[]} names @returns {LabelSaid | null} */
  function inOne(said, number, names) {
    const sign = squashed(number);
    const at = sign ? said.indexOf(sign) : -1;
    if (at < 0) return null;
    const rest = said.slice(at + sign.length);
    if (at === 0) return closeUp(rest, number, names);
    const batch = batchAmong(said.slice(0, at), names);
    const revision = rest.replace(/^REV(?:ISION)?(?=[A-Z0-9])/, "");
    return batch && revision.length <= MOST_REVISION ? { number, revision, batch } : null;
  }

  /** By the pieces of a text whose number is none that is known: the batch stands first or last; null where a piece is neither
   * number nor revision.
   * @param {string} text @returns {LabelSaid | null} */
  function byPieces(text) {
    const pieces = tidied(text).replace(/ - |[·,;|/()]/g, " ").replace(WORDS, " ").split(" ").filter(Boolean);
    const at = pieces.length < 2 ? -1 : WHOLE_BATCH.test(pieces[pieces.length - 1]) ? pieces.length - 1 : WHOLE_BATCH.test(pieces[0]) ? 0 : -1;
    if (at < 0) return null;
    const others = pieces.filter((_piece, nth) => nth !== at);
    const numbers = others.filter((piece) => piece.length > MOST_REVISION || /[.-]/.test(piece));
    const revisions = others.filter((piece) => !numbers.includes(piece) && /^[A-Z0-9]{1,4}$/.test(piece));
    if (numbers.length + revisions.length < others.length) return null; // "≠ B-0150", "før B-0150"
    return { number: numbers[0] || "", revision: revisions[0] || "", batch: asBatch(pieces[at]) };
  }

  /** What a label says; null where the text is none, or tells no batch. A number of a batch alone is one as well.
   * @param {string} text @param {string[]} numbers of the parts that are known @param {string[]} names of the batches that are
   * @returns {LabelSaid | null} */
  function labelIn(text, numbers, names) {
    const address = inAddress(text);
    if (address) return address.batch ? address : null;
    if (text.length > LONGEST) return null;
    const said = squashed(text);
    const isNumber = numbers.some((number) => squashed(number) === said);
    const batch = batchAmong(text, names) || asBatch(text) || asBatch(apart(text));
    if (batch && (names.includes(batch) || !isNumber)) return { number: "", revision: "", batch };
    const words = apart(text).split(" ");
    const found = numbers.filter((number) => said.includes(squashed(number))).sort((one, other) => other.length - one.length);
    for (const number of found) {
      const told = ofNumber(text, words, number, names);
      if (told) return told;
    }
    return found.some((number) => without(words, number)) ? null : byPieces(text);
  }

  /** What a text says beside the number of a part.
   * @param {string} text @param {string[]} words @param {string} number @param {string[]} names @returns {LabelSaid | null} */
  function ofNumber(text, words, number, names) {
    const rest = without(words, number);
    if (!rest) return words.length === 1 ? inOne(words[0], number, names) : null;
    const told = besides(rest.join(" "), number);
    const isWritten = told && (batchAmong(told.batch, names) || rest.length > 1 || tidied(text).includes(told.batch));
    return isWritten ? told : (rest.length === 1 && closeUp(rest[0], number, names)) || told;
  }

  /** The batches that a text names, where it names more than one piece.
   * @param {string} text @param {LabelOf} of @param {string[]} names @returns {string[]} */
  function piecesIn(text, of, names) {
    const asked = twoInAddress(text);
    if (asked.length) return [...new Set(asked.map((name) => batchAmong(name, names) ?? name))];
    if (text.length > LONGEST || inAddress(text)) return [];
    let words = apart(text).split(" ");
    for (const number of [of.number, ...of.numbers].sort((one, other) => other.length - one.length)) {
      for (let rest = without(words, number); rest; rest = without(words, number)) words = rest;
    }
    const found = [...words.join(" ").matchAll(/([A-Z]{1,4}) ?([0-9]{1,8})(?![0-9])/g)].map(([, letters, digits]) => ({ letters, name: `${letters}-${digits}` }));
    const letters = new Set(names.length ? names.map((name) => name.split("-")[0]) : found.slice(0, 1).map((each) => each.letters));
    const own = tidied(of.number).split("-")[0];
    const isOne = (/** @type {{ letters: string, name: string }} */ each) => names.includes(each.name) || (letters.has(each.letters) && each.letters !== own);
    const told = new Set(found.filter(isOne).map((each) => batchAmong(each.name, names) ?? each.name));
    return told.size > 1 ? [...told] : [];
  }

  /** The batch that somebody typed or scanned in answer to which piece it is.
   * @param {string} typed @param {LabelOf} of the part that is asked about @returns {BatchRead} */
  function batchRead(typed, of) {
    const text = once(typed);
    const names = of.batches.map(([name]) => name);
    const pieces = piecesIn(text, of, names);
    if (pieces.length) return { batch: "", meant: pieces.filter((name) => names.includes(name)), wrong: "label_two", said: pieces.join(", "), revision: "" };
    const label = labelIn(text, [of.number, ...of.numbers], names);
    const isAlike = Boolean(label?.number) && looks(label?.number || "") === looks(of.number);
    const isOther = Boolean(label?.number) && !isAlike;
    const batch = label ? batchAmong(label.batch, names) ?? label.batch : "";
    const known = of.batches.find(([name]) => name === batch);
    const meant = known ? [] : meantBy(text, of, names);
    const isNearly = isAlike && squashed(label?.number || "") !== squashed(of.number);
    if (!label || isNearly || (meant.length && !isOther)) return { batch: "", meant: isNearly ? meantBy(text, of, names) : meant, wrong: "", said: "", revision: "" };
    const isOtherRevision = Boolean(label.revision && known && known[1] !== label.revision);
    return {
      batch, meant, wrong: isOther ? "label_number" : isOtherRevision ? "label_revision" : "",
      said: isOther ? label.number : label.revision, revision: known ? known[1] : "",
    };
  }

  /** @param {string} text @param {LabelOf} of @param {string[]} names */
  function meantBy(text, of, names) {
    const last = text.trim().split(/\s+/).pop() || "";
    return [...new Set([...lookAlike(text, names), ...labelsAlike(text, of.number, of.batches), ...lookAlike(last, names)])];
  }

  spares.labels = { ...spares.labels, batchRead };
})();
