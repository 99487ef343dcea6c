// Numbers in words as digits: "forty nine by forty three", "neunundvierzig mal", "ni og fyrre", "seventy dot two three". Pure.
//
// A number of ten and more is one wherever it stands. A smaller one only beside a unit, a "by" or a feature in the singular:
// "keyway four", yet not "two slots". Three digits in a row are read out; so is what follows letters of the spelling alphabet.
(function () {
  "use strict";

  const { fold } = spares.finder;

  /** @typedef {{ text: string, word: string }} Told */
  /** @typedef {{ length: number, text: string, value: number }} Heard */

  const LEAST_DIGITS = 3;
  const MOST_DECIMALS = 3;

  /** @param {string} query @param {Language} language @returns {string} */
  function heard(query, language) {
    if (!/\p{L}{2}/u.test(query)) return query;
    const words = wordsOf(language);
    const told = cut(query, words);
    if (!told.some((each) => words.number(each.word) !== null)) return query;
    const said = [];
    for (let at = 0; at < told.length; ) {
      const number = readOut(told, at, words) || spelt(told, at, words);
      if (!number) said.push(told[at].text);
      else said.push(number.text);
      at += number ? number.length : 1;
    }
    return said.join(" ");
  }

  /** @param {Language} language @returns {SpokenWords} kept with the language */
  function wordsOf(language) {
    if (language.heard) return language.heard;
    /** @type {Map<string, number>} */
    const values = new Map(Object.entries(language.spoken).filter(([, value]) => Number.isInteger(value)).map(([word, value]) => [fold(word), value]));
    const inside = new Map(Object.entries(language.spoken_inside).map(([word, value]) => [fold(word), value]));
    const set = (/** @type {string[]} */ list) => new Set(list.map(fold));
    const ands = language.spoken_and.map(fold);
    const cache = new Map();
    const number = (/** @type {string} */ word) => {
      if (!cache.has(word)) cache.set(word, values.has(word) ? values.get(word) : compound(word, values, inside, ands));
      return cache.get(word);
    };
    const features = set(Object.keys(language.features));
    language.heard = {
      number, inside, features, ands: new Set(ands), points: set(language.point), by: set(language.by), units: set(Object.keys(language.units)), digits: set(language.digits),
      signs: new Map(Object.entries(language.signs).map(([word, sign]) => [fold(word), sign])),
      doubles: new Map(Object.entries(language.double).map(([word, times]) => [fold(word), times])),
      letters: new Map(Object.entries(language.letters).map(([word, letter]) => [fold(word), letter])),
    };
    return language.heard;
  }

  /** "neunundvierzig", "toogfyrre", "hundertzwanzig"; null where it is none.
   * @param {string} word @param {Map<string, number>} values @param {Map<string, number>} inside @param {string[]} ands
   * @returns {number | null} */
  function compound(word, values, inside, ands) {
    if (word.length < 6) return null;
    const known = (/** @type {string} */ text) => values.get(text) ?? inside.get(text) ?? null;
    for (const [hundred, value] of values) {
      const at = value === 100 ? word.indexOf(hundred) : -1;
      if (at < 0) continue;
      const before = at ? known(word.slice(0, at)) : 1;
      let rest = word.slice(at + hundred.length);
      for (const and of ands) if (rest.startsWith(and) && rest.length > and.length) rest = rest.slice(and.length);
      const after = rest ? known(rest) ?? compound(rest, values, inside, ands) : 0;
      if (before !== null && before < 10 && after !== null && after < 100) return 100 * before + after;
    }
    for (const and of ands) {
      for (let at = word.indexOf(and, 1); at > 0; at = word.indexOf(and, at + 1)) {
        const [unit, tens] = [known(word.slice(0, at)), known(word.slice(at + and.length))];
        if (unit !== null && tens !== null && unit < 10 && unit > 0 && tens >= 20 && tens < 100) return unit + tens;
      }
    }
    return null;
  }

  /** The query at white space; hyphens between number words are such, too.
   * @param {string} query @param {SpokenWords} words @returns {Told[]} */
  function cut(query, words) {
    return query.split(/\s+/).filter(Boolean).flatMap((text) => {
      const parts = text.split("-");
      const isNumber = parts.length > 1 && parts.every((part) => part && !/\d/.test(part))
        && words.number(fold(parts[0])) !== null;
      return (isNumber ? parts : [text]).flatMap(apart);
    });
  }

  /** A comma behind a word is no part of it.
   * @param {string} text @returns {Told[]} */
  function apart(text) {
    const bare = text.replace(/[,;:.!?]+$/, "");
    const told = [{ text: bare || text, word: fold(bare) }];
    return bare && bare !== text ? [...told, { text: text.slice(bare.length), word: "" }] : told;
  }

  /** Digits and letters one by one: "tango victor zero two one nine", "double seven zero three one", "seventy dot two three eight".
   * @param {Told[]} told @param {number} from @param {SpokenWords} words @returns {Heard | null} */
  function readOut(told, from, words) {
    let [at, text, digits, letters] = [from, "", 0, 0];
    const isForced = words.digits.has(told[at].word);
    if (isForced) at += 1;
    for (; at < told.length; at += 1) {
      const word = told[at].word;
      const digit = words.number(word);
      const times = words.doubles.get(word);
      const next = told[at + 1] ? words.number(told[at + 1].word) : null;
      if (digit !== null && digit < 10) { text += digit; digits += 1; }
      else if (digit !== null && text === "" && letters === 0 && words.points.has(told[at + 1]?.word || "")) text += digit;
      else if (times && next !== null && next < 10) { text += String(next).repeat(times); digits += times; at += 1; }
      else if (words.letters.has(word)) { text += words.letters.get(word); letters += 1; }
      else if (isSigned(told, at, words)) { text += word; letters += 1; }
      else if (text && next !== null && next < 10 && (words.points.has(word) || words.signs.has(word))) text += words.signs.get(word) || ".";
      else break;
    }
    const isDecimal = /^\d+\.\d{1,3}$/.test(text) && (text.split(".")[1].length < MOST_DECIMALS || text.length < 6);
    if (isDecimal && !isForced) return null;
    if (digits < (letters > 1 || isForced ? 1 : LEAST_DIGITS)) return null;
    return { length: at - from, text, value: NaN };
  }

  /** "s slash six": a letter that was typed, before a sign.
   * @param {Told[]} told @param {number} at @param {SpokenWords} words */
  function isSigned(told, at, words) {
    return /^[a-z]$/.test(told[at].word) && words.signs.has(told[at + 1]?.word || "") && (words.number(told[at + 2]?.word || "") ?? 10) < 10;
  }

  /** One number in words.
   * @param {Told[]} told @param {number} from @param {SpokenWords} words @returns {Heard | null} */
  function spelt(told, from, words) {
    const whole = wholeNumber(told, from, words);
    if (!whole) return null;
    let { length, value } = whole;
    let text = String(value);
    const digit = (/** @type {number} */ at) => (told[at] ? words.number(told[at].word) ?? words.inside.get(told[at].word) ?? null : null);
    if (words.points.has(told[from + length]?.word || "") && (digit(from + length + 1) ?? 10) < 10) {
      let decimals = "";
      for (let at = from + length + 1, next = digit(at); next !== null && next < 10; next = digit(at)) {
        decimals += next;
        at += 1;
      }
      return { length: length + 1 + decimals.length, text: `${text}.${decimals}`, value };
    }
    return value >= 10 || isBesideASize(told, from, length, words) ? { length, text, value } : null;
  }

  /** @param {Told[]} told @param {number} from @param {SpokenWords} words @returns {{ length: number, value: number } | null} */
  function wholeNumber(told, from, words) {
    const value = (/** @type {number} */ at) => (told[at] ? words.number(told[at].word) : null);
    const [first, second, third] = [value(from), value(from + 1), value(from + 2)];
    const isAnd = (/** @type {number} */ at) => words.ands.has(told[at]?.word || "");
    const unit = first ?? words.inside.get(told[from].word) ?? null;
    if (unit !== null && unit > 0 && unit < 10 && isAnd(from + 1) && third !== null && third >= 20 && third < 100) return { length: 3, value: unit + third };
    if (unit !== null && unit > 0 && unit < 10 && second === 100) return hundreds(told, from + 2, 2, 100 * unit, words);
    if (first === null) return null;
    if (first === 100) return hundreds(told, from + 1, 1, 100, words);
    if (first >= 20 && first < 100 && second !== null && second > 0 && second < 10) return { length: 2, value: first + second };
    if (first > 0 && first < 10 && second !== null && second >= 10 && second < 100) {
      const rest = wholeNumber(told, from + 1, words);
      if (rest) return { length: 1 + rest.length, value: 100 * first + rest.value };
    }
    return { length: 1, value: first };
  }

  /** What follows "hundred".
   * @param {Told[]} told @param {number} at @param {number} length so far @param {number} sum @param {SpokenWords} words */
  function hundreds(told, at, length, sum, words) {
    const and = words.ands.has(told[at]?.word || "") ? 1 : 0;
    const rest = told[at + and] ? wholeNumber(told, at + and, words) : null;
    return rest && rest.value < 100 ? { length: length + and + rest.length, value: sum + rest.value } : { length, value: sum };
  }

  /** @param {Told[]} told @param {number} from @param {number} length @param {SpokenWords} words */
  function isBesideASize(told, from, length, words) {
    const [before, after] = [told[from - 1]?.word || "", told[from + length]?.word || ""];
    if (words.units.has(after) || words.by.has(after) || words.by.has(before)) return true;
    const isFeature = (/** @type {string} */ word) => words.features.has(word) && !/[^s]s$/.test(word);
    const isCounted = [1, 2].some((step) => /[^s]s$/.test(told[from + length + step]?.word || "")); // "two window knobs"
    return isFeature(before) || (isFeature(after) && words.number(after) === null && !isCounted);
  }

  spares.finder = { ...spares.finder, heard };
})();
