// Which words say it? Fills placeholders by the rule of generator/pages/wording.py, from the same words file.
//
// {name} a fact, {name:date} a day in words, {name:word} the word of `terms`, {name:kind} that of
// another kind there, {name?day|days} what agrees with the number of {name}; [a piece] is left out when a
// placeholder inside it has nothing to print. Pure.
(function () {
  "use strict";

  const GROUP = /\[([^[\]]*)\]/g;
  const PLACEHOLDER = /\{([A-Za-z0-9_]+)(?::([a-z]+)|\?([^{}|[\]]+)\|([^{}|[\]]+))?\}/g;

  /** @param {string} text @param {Record<string, unknown>} facts @param {Words} words @returns {string} */
  function filled(text, facts, words) {
    const kept = text.replace(GROUP, (_whole, piece) => {
      const places = [...piece.matchAll(PLACEHOLDER)];
      return places.every((place) => value(place[1], place[2], facts, words) !== null) ? piece : "";
    });
    const told = kept.replace(PLACEHOLDER, (_whole, name, form, one, many) => {
      const printed = value(name, form, facts, words) || words.missing;
      return one === undefined ? printed : printed === "1" ? one : many;
    });
    return told.replaceAll(`.${words.list_separator}`, () => words.list_separator); // sentences in a list end with the list
  }

  /** The words for n things.
   * @param {{one: string, other: string}} forms @param {number} n
   * @param {Record<string, unknown>} facts @param {Words} words @returns {string} */
  function counted(forms, n, facts, words) {
    return filled(n === 1 ? forms.one : forms.other, { ...facts, n: String(n) }, words);
  }

  /** @param {string} name @param {string | undefined} form @param {Record<string, unknown>} facts @param {Words} words
   * @returns {string | null} */
  function value(name, form, facts, words) {
    const found = own(facts, name);
    if (found === undefined || found === null || found === "" || (Array.isArray(found) && !found.length)) return null;
    const values = (Array.isArray(found) ? found : [found]).map(String);
    const worded = values.map((each) => {
      if (form === "date") return day(each, words);
      const kind = form === "word" ? name : form;
      return kind ? String(own(own(words.terms, kind) || {}, each) ?? each) : each;
    });
    return worded.join(words.list_separator);
  }

  /** A day such as 2026-11-25 in words; "open" as the words for no end; anything else unchanged.
   * @param {string} text @param {Words} words @returns {string} */
  function day(text, words) {
    if (text === "open") return words.dates.open_end;
    if (spares.judge.daysBetween(text, text) === null) return text;
    const month = words.dates.months[Number(text.slice(5, 7)) - 1];
    const year = String(Number(text.slice(0, 4)));
    return filled(words.dates.format, { day: String(Number(text.slice(8))), month, year }, words);
  }

  /** @template T @param {Record<string, T>} record @param {string} key @returns {T | undefined} */
  function own(record, key) {
    return record && Object.prototype.hasOwnProperty.call(record, key) ? record[key] : undefined;
  }

  spares.judge = { ...spares.judge, filled, counted };
})();
