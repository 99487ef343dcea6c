// When are two spellings the same word, or two writings the same number? Pure.
(function () {
  "use strict";

  /** Letters that Unicode does not take apart.
   * @type {Record<string, string>} */
  const LETTERS = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "oe", "å": "aa", "ä": "ae", "ö": "oe", "ü": "ue", "đ": "d", "ł": "l", "ð": "d", "þ": "th" };
  /** Letters that are read for digits.
   * @type {Record<string, string>} */
  const DIGITS = { o: "0", i: "1", l: "1", s: "5", b: "8" };
  const STRANGE = /[^\u0000-\u007f]/;
  const APOSTROPHES = /['’‘`´]/g;
  const PIECES = /[\p{L}\p{N}]+/gu;

  /** Lower case, plain letters: å as aa, ü as ue, other accents away.
   * @param {string} text @returns {string} */
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

  /** The pieces of letters and digits of a text.
   * @param {string} text @returns {string[]} */
  function pieces(text) {
    return text.match(PIECES) || [];
  }

  /** Takes the ending off a folded word, so that "rattles", "rattled" and "rattling" are one: by the rules of a language,
   * in four steps; in each, the first rule that fits is taken.
   * @param {Language} language @returns {(word: string) => string} */
  function stemmer(language) {
    const endings = language.endings.map((ending) => ({ find: new RegExp(`^(.{4,})${ending}$`), put: "$1" }));
    const steps = [rules(language.plurals), rules(language.verb_forms), endings, rules(language.last_letters)];
    return (word) => {
      if (word.length < 4 || /\d/.test(word)) return word;
      let cut = word;
      for (const step of steps) {
        const fitting = step.find(({ find }) => find.test(cut));
        if (fitting) cut = cut.replace(fitting.find, fitting.put);
      }
      return cut;
    };
  }

  /** @param {Language["plurals"]} written patterns, each with what takes the place of what it finds */
  function rules(written) {
    return written.map(([find, put]) => ({ find: new RegExp(find), put }));
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

  /** The same with the leading zeros of each piece away, so that "TV-417" is TV-0417.
   * @param {string} text */
  function shortNumberKey(text) {
    return pieces(plain(text))
      .map((piece) => numberKey(piece).replace(/^([a-z]*)0+(?=[0-9a-z]*[1-9a-z])/, "$1"))
      .join("");
  }

  spares.finder = { ...spares.finder, plain, fold, pieces, stemmer, numberKey, shortNumberKey };
})();
