// The numbers of vehicles as depots write them: 401, 0401, B31, 31.02, and ranges of them. Pure; records/vehicles.py says it in
// Python, and tests/scripts holds both to the same cases.
(function () {
  "use strict";

  const LETTER = "A-Za-zÀ-ÖØ-öø-ž";
  const NUMBER = new RegExp(`^([${LETTER}]{0,4})([0-9]{1,6}(?:\\.[0-9]{1,6}){0,3})([${LETTER}]?)$`);

  /** @param {string} text @returns {Designation | null} null where it is no number of a vehicle */
  function takenApart(text) {
    const match = text.length > 40 ? null : NUMBER.exec(text);
    if (!match) return null;
    const dot = match[2].lastIndexOf(".") + 1;
    return { stem: match[1] + match[2].slice(0, dot), last: match[2].slice(dot), behind: match[3] };
  }

  /** The first and the last of a range; of a single vehicle the same twice.
   * @param {string} range @returns {[Designation, Designation] | null} */
  function ends(range) {
    const [first, last, more] = range.split("-");
    const begin = takenApart(first);
    if (!begin || last === undefined) return begin && [begin, begin];
    const end = takenApart(/^[0-9]{1,6}$/.test(last) ? begin.stem + last + begin.behind : last);
    const isRun = more === undefined && end && end.stem === begin.stem && end.behind === begin.behind && Number(begin.last) <= Number(end.last);
    return isRun ? [begin, end] : null;
  }

  /** @param {string} range @returns {string[]} */
  function written(range) {
    const found = ends(range);
    if (!found) return [];
    const [first, last] = found;
    const width = first.last.length === last.last.length ? first.last.length : 1;
    const many = Math.min(Number(last.last) - Number(first.last), MOST);
    return Array.from({ length: many + 1 }, (_one, at) => first.stem + String(Number(first.last) + at).padStart(width, "0") + first.behind);
  }

  const MOST = 2000;
  /** @type {Map<string, Set<string>>} */
  const known = new Map();

  /** @param {string} range */
  function membersOf(range) {
    let members = known.get(range);
    if (!members) known.set(range, (members = new Set(written(range))));
    return members;
  }

  /** Every vehicle of some ranges, in the order of the ranges.
   * @param {string[]} ranges */
  function vehiclesIn(ranges) {
    return [...new Set(ranges.flatMap((range) => [...membersOf(range)]))];
  }

  /** Whether a vehicle, written as its fleet writes it, lies in ranges such as "401-412".
   * @param {string[]} ranges @param {string} number */
  function isAmong(ranges, number) {
    return ranges.some((range) => membersOf(range).has(number));
  }

  /** As a number is typed: case and spaces are no matter.
   * @param {string} text */
  const plain = (text) => text.toLowerCase().replace(/\s/g, "");

  /** The same for two numbers that one takes for each other: without leading zeros either.
   * @param {string} text */
  const readAlike = (text) => plain(text).replace(/(?<![0-9])0+(?=[0-9])/g, "");

  /** @type {WeakMap<object, { exact: Map<string, string>, alike: Map<string, string> }>} */
  const tables = new WeakMap();

  /** @param {{ vehicles: string[] }[]} fleets */
  function tableOf(fleets) {
    let table = tables.get(fleets);
    if (!table) tables.set(fleets, (table = { exact: byName(fleets, plain), alike: byName(fleets, readAlike) }));
    return table;
  }

  /** What each name means; "" where it may mean several.
   * @param {{ vehicles: string[] }[]} fleets @param {(text: string) => string} naming */
  function byName(fleets, naming) {
    /** @type {Map<string, string>} */
    const names = new Map();
    for (const number of new Set(fleets.flatMap((fleet) => vehiclesIn(fleet.vehicles)))) {
      const name = naming(number);
      names.set(name, names.has(name) ? "" : number);
    }
    return names;
  }

  /** The vehicle that is meant, as its fleets write it; where none is written so, the only one that is read alike. "" for none.
   * @param {string} text @param {{ vehicles: string[] }[]} fleets */
  function meantBy(text, fleets) {
    if (!text || text.length > 40) return "";
    const { exact, alike } = tableOf(fleets);
    return exact.get(plain(text)) ?? alike.get(readAlike(text)) ?? "";
  }

  /** Whether a text looks as a number of these vehicles does.
   * @param {string} text @param {string[]} ranges */
  function isLikeOneOf(text, ranges) {
    const given = takenApart(text);
    return given !== null && ranges.some((range) => (ends(range) || []).some((end) => (
      plain(end.stem) === plain(given.stem) && end.last.length === given.last.length && !end.behind === !given.behind)));
  }

  spares.vehicles = { ...spares.vehicles, vehiclesIn, isAmong, meantBy, isLikeOneOf, plain, takenApart };
})();
