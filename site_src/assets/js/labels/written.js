// How are batches written on labels, by hands and by scanners? "b 0147" is B-0147, whatever dash or blank; a letter for a digit is
// asked about. Pure; records/labels.py says it in Python, and tests/rules/labels.json holds both.
(function () {
  "use strict";

  /** Signs that stand between letters and digits. A scanner that takes the host's keyboard for an American one writes
   * "ß" (German) or "+" (Danish) for a hyphen (from memory). */
  const BETWEEN = "[-+.:/'~\\u00b7]";
  const BATCH = new RegExp(`^([A-Z]{1,4}) ?${BETWEEN}? ?([0-9]{1,8})$`);
  const BARE = new RegExp(`^([A-Z]*) ?${BETWEEN}? ?0*([0-9]{1,8})$`);
  /** Letters that are read as a digit, and the other way round. */
  const LOOKS = /** @type {Record<string, string>} */ ({ O: "0", I: "1", L: "1", S: "5", B: "8", Z: "2" });
  const LONGEST = 60;

  /** In capital letters, whatever kind of dash or blank was typed or scanned.
   * @param {string} text */
  const tidied = (text) => text.normalize("NFKC").replace(/\u00df/g, "-").toUpperCase().replace(/[\u2010-\u2015\u2043\u2212\u00ad\ufe63_]/g, "-").replace(/\s+/g, " ").trim();

  /** The letters and digits alone.
   * @param {string} text */
  const squashed = (text) => tidied(text).replace(/[^A-Z0-9]/g, "");

  /** A batch as a label writes it, of what somebody typed or scanned: "b 0147" is B-0147.
   * @param {string} text @returns {string} "" where it is no number of a batch */
  function asBatch(text) {
    const typed = BATCH.exec(tidied(text));
    return typed ? `${typed[1]}-${typed[2]}` : "";
  }

  /** The one of these that is meant: as it is written, or, where one alone has that number, with other zeros before it or
   * without its letters.
   * @param {string} text @param {string[]} names @returns {string | null} */
  function batchAmong(text, names) {
    const written = asBatch(text);
    if (names.includes(written)) return written;
    const bare = BARE.exec(tidied(text));
    if (!bare) return null;
    const isMeant = (/** @type {string} */ name) => {
      const [letters, digits] = name.split("-");
      return Number(digits) === Number(bare[2]) && (!bare[1] || bare[1] === letters);
    };
    const found = names.filter(isMeant);
    return found.length === 1 ? found[0] : null;
  }

  /** @param {string} text */
  const looks = (text) => [...squashed(text)].map((sign) => LOOKS[sign] || sign).join("");

  /** The same without the zeros before the number of a batch.
   * @param {string} name */
  const bared = (name) => name.replace(/-0+/, "-");

  /** Of some names those that look like a text in which a letter stands for a digit, or a digit for a letter.
   * @param {string} text @param {string[]} names @returns {string[]} none where it is one of them, as it is written */
  function lookAlike(text, names) {
    const typed = looks(text);
    if (!typed || typed.length > LONGEST || names.includes(tidied(text))) return [];
    return [...new Set(names)].filter((name) => looks(name) === typed || looks(bared(name)) === typed);
  }

  /** The batches whose whole label, with the number of the part and its revision, looks like a text.
   * @param {string} text @param {string} number @param {[string, string][]} batches each with its revision @returns {string[]} */
  function labelsAlike(text, number, batches) {
    const typed = looks(text);
    if (!typed || typed.length > LONGEST) return [];
    const written = (/** @type {string} */ name, /** @type {string} */ revision) => [`${number}${revision}${name}`, `${number}${name}`, `${name}${number}${revision}`, `${name}${number}`, `${revision}${name}`];
    return batches.filter(([name, revision]) => [name, bared(name)].some((each) => written(each, revision).some((label) => looks(label) === typed))).map(([name]) => name);
  }

  spares.labels = { ...spares.labels, tidied, squashed, asBatch, batchAmong, looks, lookAlike, labelsAlike };
})();
