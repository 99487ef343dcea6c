// What was looked for in vain, as the beginning of a request: words become the name, sizes the sizes, vehicles the vehicles. What
// cannot be told apart stays in the name, where a hand can move it.
(function () {
  "use strict";

  const { rank, tidy, vehicleWords, whom } = spares.finder;
  const { isAmong, spelledOut } = spares.vehicles;
  const MOST_SIZES = 3;
  const BETWEEN = "\\s*(?:mm|cm)?\\s*(?:[x×*/]|by|mal|auf|gange|og|and|und)?\\s*";

  /** @param {string} text */
  const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

  /** A size as it may be typed: "120x80", "49 by 43 mm", "7,1".
   * @param {number[]} values */
  const typedSize = (values) => new RegExp(`(?<![\\p{L}\\d.,])${values.map((value) => String(value).replace(".", "[.,]")).join(BETWEEN)}(?![\\d])\\s*(?:mm\\b)?`, "iu");

  /** @param {string} text @param {string[]} before words that go with it */
  const typedWord = (text, before) => new RegExp(`(?<![\\p{L}\\d])(?:(?:${before.map(escaped).join("|")})[\\s.:/-]*)*${escaped(text)}(?![\\p{L}\\d])`, "iu");

  /** @param {string} query @param {RegExp} what @returns {string | null} the rest; null where it is not there */
  function without(query, what) {
    const rest = query.replace(what, " ").replace(/\s+/g, " ").replace(/^[\s,;:/-]+|[\s,;:/-]+$/g, "");
    return what.test(query) ? rest : null;
  }

  /** The fleet that all of these are of, where it is one; of the asked ones where some were.
   * @param {FinderData} data @param {Asked} said */
  function fleetOf(data, said) {
    const among = data.fleets.filter((_fleet, at) => !said.fleets.length || said.fleets.includes(at));
    const having = among.filter((fleet) => said.vehicles.filter(Boolean).every((each) => isAmong(fleet.vehicles, each)));
    return (said.fleets.length || said.vehicles.length) && having.length === 1 ? having[0].id : "";
  }

  /** @param {Catalogue} parts @param {string} query @param {string} wanted a fleet that was chosen beforehand; "" for none
   * @returns {{ name: string, fleet: string, sizes: string[], numbers: string, vehicles: string }} */
  function fromQuery({ index, data }, query, wanted) {
    const ranked = rank(index, query);
    const { items } = ranked;
    const said = whom(index, ranked, query, null);
    const fleet = wanted || fleetOf(data, said);
    const own = data.fleets.filter((each) => each.id === fleet);
    const before = [...data.language.vehicles, ...data.fleets.map((each) => each.id)];
    let name = spelledOut(tidy(index, query), vehicleWords(index));
    /** @type {(what: RegExp) => boolean} */
    const take = (what) => {
      const rest = without(name, what);
      if (rest !== null) name = rest;
      return rest !== null;
    };
    const writings = (/** @type {string} */ number) => [number, ...said.taken.filter(([, meant]) => meant === number).map(([typed]) => typed)];
    const vehicles = [...new Set(said.vehicles)].filter((each) => own.some(({ vehicles: all }) => isAmong(all, each)) && writings(each).some((text) => take(typedWord(text, before))));
    const values = items.find((item) => item.kind === "size" && item.size?.values.length)?.size?.values.slice(0, MOST_SIZES) || [];
    const sizes = values.length && take(typedSize(values)) ? values : [];
    const numbers = items.filter((item) => item.kind === "number" && item.text.length > MOST_SIZES && take(typedWord(item.text, []))).map((item) => item.text);
    if (fleet) take(typedWord(fleet, []));
    return { name, fleet, sizes: sizes.map(String), numbers: numbers.map((each) => each.toUpperCase()).join(", "), vehicles: vehicles.join(", ") };
  }

  spares.screen = { ...spares.screen, fromQuery };
})();
