// Does a text name no gauge? As generator/records/placeholders.py has it (identifies_nothing), from the same words. Pure.
(function () {
  "use strict";

  const HOLE = /<[^<>]*>|\{[^{}]*\}|\[[^[\]\p{Nd}]*\]/gu;
  const LEAST_OF_KEYS = 3;
  const FEW = 2;

  /** In small letters, however an umlaut is typed, without signs that nobody sees.
   * @param {string} text */
  const spelt = (text) => text.normalize("NFKC").toLowerCase().replace(/ß/g, "ss").replace(/[äæ]/g, "ae").replace(/[öø]/g, "oe").replace(/ü/g, "ue").replace(/å/g, "aa").replace(/\p{Cf}/gu, "");

  /** Outside of what a template leaves to be filled.
   * @param {string} text */
  function wordsOf(text) {
    const whole = (spelt(text).replace(HOLE, " ").replace(HOLE, " ").match(/[\p{L}\p{N}]+/gu) || []).join(" ");
    const joined = whole.replace(/(n )?\b(o|i|e|s) (k|o|mail|u)\b/g, (all, denied, first, last) => (denied ? all : first + last)); // "n. i. O." is not good
    return joined.replace(/\balt (?=(?:er )?(?:ok|okay|godt|fint|i orden)\b)/g, "").split(" ").filter(Boolean);
  }

  /** A word or two that end in what says that something comes.
   * @param {string} text @param {string[]} words @param {BlankTexts} blank */
  function comesLater(text, words, blank) {
    const ends = blank.ends.filter((end) => ` ${words.join(" ")}`.endsWith(` ${end}`)).sort((one, other) => other.length - one.length);
    if (!ends.length || /[\p{Nd},;]/u.test(text)) return false;
    return words.slice(0, words.length - ends[0].split(" ").length).filter((each) => !blank.words.includes(each)).length <= FEW;
  }

  /** One letter over and over, keys side by side, or a word that says nothing again and again.
   * @param {string} word @param {BlankTexts} blank */
  function isStruckBlindly(word, blank) {
    if (word.length < LEAST_OF_KEYS) return false;
    const unit = word.slice(0, (word + word).indexOf(word, 1));
    const isBeside = unit.length >= LEAST_OF_KEYS && blank.keys.some((row) => (unit.length > LEAST_OF_KEYS ? row.includes(unit) : row.startsWith(unit)));
    return unit.length === 1 || (unit !== word && blank.words.includes(unit)) || isBeside;
  }

  /** A number is a name, unless it is all 0, and so is a letter at the end: "gauge A".
   * @param {string} text @param {BlankTexts} blank */
  function namesNothing(text, blank) {
    const bare = spelt(text).replace(/[^\p{L}\p{N}]/gu, "");
    if (/^(0*|x+)$/.test(bare) || blank.whole.includes(bare)) return true;
    const words = wordsOf(text);
    const isLettered = words.length > 0 && words[words.length - 1].length === 1;
    return (!isLettered && words.every((each) => blank.words.includes(each) || isStruckBlindly(each, blank))) || blank.sayings.some((each) => new RegExp(`^(?:${each})$`).test(words.join(" "))) || comesLater(text, words, blank);
  }

  spares.request = { ...spares.request, namesNothing };
})();
