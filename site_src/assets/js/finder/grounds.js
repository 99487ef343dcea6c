// What do a fleet and a vehicle in a query do? The words say what is meant, the vehicle only which verdict. Pure.
//
// Where anything else was said, a part that is not made for the vehicle stands a little behind, and no part is found by its
// vehicle alone. A range, "405-407" or "401 to 403", names all its vehicles.
(function () {
  "use strict";

  const { fold, ofVehicle } = spares.finder;
  const { endsOf, tidied, vehiclesBetween, MOST_OF_A_RANGE } = spares.vehicles;

  const NOT_ON_IT = 0.1;
  const SURELY_A_VEHICLE = 100;
  const MET = 0.5;

  /** What a language and a catalogue know of how vehicles are written.
   * @param {Index} index @returns {VehicleWords} */
  function vehicleWords(index) {
    const { language, fleets } = index;
    const units = Object.keys(language.units).filter((unit) => unit !== "in"); // which is a word too
    return { fleets, words: language.vehicles, until: language.until, units, isNumber: (text) => isNumber(index, text) };
  }

  /** Whether some part has this number, or it between two signs of a longer one.
   * @param {Index} index @param {string} text */
  function isNumber(index, text) {
    const asked = text.toLowerCase();
    return index.numbers.some((number) => {
      const known = number.text.toLowerCase();
      const at = known.indexOf(asked);
      return at >= 0 && !/[\p{L}\d]/u.test(known[at - 1] || "") && !/[\p{L}\d]/u.test(known[at + asked.length] || "");
    });
  }

  /** @param {Index} index @param {string} query @returns {string} with its vehicles as the fleets write them */
  const tidy = (index, query) => tidied(query, vehicleWords(index));

  /** Whether an item says nothing but a fleet or a vehicle.
   * @param {Item} item */
  function isGround({ kind, text, vehicles, numbers }) {
    return kind === "fleet" || kind === "vehicle" || (kind === "bare" && Boolean(vehicles?.size) && !numbers?.size && Number(text) >= SURELY_A_VEHICLE);
  }

  /** What else was said, where it finds anything; null where the vehicle alone can find.
   * @param {Item[]} items @returns {Item[] | null} */
  function besideGrounds(items) {
    const others = items.filter((item) => !isGround(item));
    return others.length < items.length && others.some((item) => item.match.some((match) => match >= MET)) ? others : null;
  }

  /** How far a part stands behind for the fleets and vehicles that were said.
   * @param {Item[]} items @returns {(at: number) => number} */
  function offGround(items) {
    const grounds = items.filter((item) => isGround(item) && !item.isStrange);
    const [fleets, vehicles] = [grounds.filter((item) => item.kind === "fleet"), grounds.filter((item) => item.kind !== "fleet")];
    return (at) => ([fleets, vehicles].some((list) => list.length && list.every((item) => !(item.match[at] > 0))) ? NOT_ON_IT : 0);
  }

  /** Every vehicle of a range that a fleet has from its first to its last; null where none begins there.
   * @param {Index} index @param {Rest[]} chunks @param {number} at @returns {{ vehicles: string[], length: number } | null} */
  function vehicleRun(index, chunks, at) {
    const [one, to, last] = chunks.slice(at, at + 3).map((chunk) => chunk.text);
    const isSplit = last && (/^[-–]$/.test(to) || index.language.until.map(fold).includes(fold(to)));
    const ends = endsOf(one) || (isSplit ? endsOf(`${one}-${last}`) : null);
    if (!ends || Number(/^\d+$/.test(ends[0]) ? ends[0] : SURELY_A_VEHICLE) < SURELY_A_VEHICLE) return null;
    const vehicles = vehiclesBetween(ends, index.fleets);
    return vehicles.length > 1 ? { vehicles, length: endsOf(one) ? 1 : 3 } : null;
  }

  /** @param {Index} index @param {Rest[]} chunks @param {number} at @param {number} weight
   * @returns {{ items: Item[], length: number } | null} */
  function rangeItems(index, chunks, at, weight) {
    const word = index.language.vehicles.includes(fold(chunks[at].text)) && chunks[at + 1] ? 1 : 0;
    const run = vehicleRun(index, chunks, at + word);
    if (!run) return null;
    const items = run.vehicles.map((text) => vehicleOf(index, text, weight, ofVehicle(index, text)));
    return { items, length: word + run.length };
  }

  /** @param {Index} index @param {string} text @param {number} weight @param {Set<number>} known @returns {Item} */
  function vehicleOf(index, text, weight, known) {
    const match = new Float32Array(index.records.length);
    for (const which of known) match[which] = 1;
    return { kind: "vehicle", text, weight, match, least: 1 };
  }

  spares.finder = { ...spares.finder, besideGrounds, offGround, rangeItems, tidy, vehicleOf, vehicleRun, vehicleWords, MOST_OF_A_RANGE };
})();
