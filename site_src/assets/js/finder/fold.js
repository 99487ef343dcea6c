// When are two spellings the same word, or two writings the same number? Pure.
(function () {
  "use strict";

  /** Letters that Unicode does not take apart. @type {Record<string, string>} */
  const LETTERS = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "oe", "å": "aa", "ä": "ae", "ö": "oe", "ü": "ue", "đ": "d", "ł": "l", "ð": "d", "þ": "th" };
  /** Letters that are read for digits. @type {Record<string, string>} */
  const DIGITS = { o: "0", i: "1", l: "1", s: "5", b: "8" };
  const STRANGE = /[^\u0000-\u007f]/;
  const APOSTROPHES = /['’‘`´]/g;
  const PIECES = /[\p{L}\p{N}]+/gu;

  /** Lower case, plain letters: å as aa, ü as ue, other accents away. @param {string} text @returns {string} */
  function plain(text) {
    const lower = text.toLowerCase();
    if (!STRANGE.test(lower)) return lower.replace(APOSTROPHES, "");
    return lower
      .normalize("NFKC")
      .replace(APOSTROPHES, "")
      .replace(/[ßæœøåäöüđłðþ]/g, (letter) => LETTERS[letter])
      .normalize("NFD")
      .replace(/\p{M}/gu, "");
  }

  /** One key for å, aa and a; ø, oe, ö and o; ü, ue and u: people type what their keyboard has.
   * @param {string} text @returns {string} */
  function fold(text) {
    return plain(text).replace(/aa|ae/g, "a").replace(/oe/g, "o").replace(/ue/g, "u");
  }

  /** The pieces of letters and digits of a text. @param {string} text @returns {string[]} */
  function pieces(text) {
    return text.match(PIECES) || [];
  }

  /** A word without its ending, so that "rattles", "rattled" and "rattling" are one.
   * @param {string} word folded @param {string[]} endings of the language, longest first @returns {string} */
  function stem(word, endings) {
    if (word.length < 4 || /\d/.test(word)) return word;
    let cut = word;
    if (cut.endsWith("ies") && cut.length > 4) cut = cut.slice(0, -3) + "y";
    else if (/(s|x|z|ch|sh)es$/.test(cut)) cut = cut.slice(0, -2);
    else if (/[^sui]s$/.test(cut) && cut !== "lens") cut = cut.slice(0, -1);
    cut = cut.replace(/^([a-z]*[aeiouy][a-z]+|[a-z]{2,}[aeiouy][a-z]*)(ing|ed)$/, (_whole, start) => undoubled(start));
    for (const ending of endings) {
      if (cut.length - ending.length >= 4 && cut.endsWith(ending)) {
        cut = cut.slice(0, -ending.length);
        break;
      }
    }
    return cut.length > 3 && cut.endsWith("e") ? cut.slice(0, -1) : cut;
  }

  /** @param {string} word */
  function undoubled(word) {
    return /([bdgklmnprt])\1$/.test(word) ? word.slice(0, -1) : word;
  }

  /** One key for every writing of a number: no punctuation, and letters that are read for digits as those digits.
   * @param {string} text @returns {string} */
  function numberKey(text) {
    let key = "";
    const small = plain(text);
    for (let at = 0; at < small.length; at += 1) {
      const sign = small[at];
      if ((sign >= "0" && sign <= "9") || (sign >= "a" && sign <= "z")) key += DIGITS[sign] || sign;
    }
    return key;
  }

  /** The same with the leading zeros of each piece away, so that "TV-417" is TV-0417. @param {string} text */
  function shortNumberKey(text) {
    return pieces(plain(text))
      .map((piece) => numberKey(piece).replace(/^([a-z]*)0+(?=[0-9a-z])/, "$1"))
      .join("");
  }

  spares.finder = { ...spares.finder, plain, fold, pieces, stem, numberKey, shortNumberKey };
})();
