// What do a fleet and a vehicle in a query do? The words say what is meant, the vehicle only which verdict. Pure.
//
// Where anything else was said, a part that is not made for the vehicle stands a little behind, and no part is found by its
// vehicle alone. A range, "405-407" or "401 to 403", names all its vehicles.
(function () {
  "use strict";

  const { fold, ofVehicle } = spares.finder;

  const NOT_ON_IT = 0.1;
  const SURELY_A_VEHICLE = 100;
  const MOST_OF_A_RANGE = 12;
  const MET = 0.5;

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
    const one = /^(\w+)[-–](\w+)$/.exec(chunks[at].text);
    const isSplit = chunks[at + 2] && (/^[-–]$/.test(chunks[at + 1].text) || index.language.until.map(fold).includes(fold(chunks[at + 1].text)));
    const [first, last] = one ? one.slice(1) : isSplit ? [chunks[at].text, chunks[at + 2].text] : ["", ""];
    if (!/\d/.test(first) || Number(first) < SURELY_A_VEHICLE) return null;
    const ends = [first, last].map((text) => spares.vehicles.meantBy(text, index.fleets));
    const fleet = index.fleets.find((each) => ends.every((end) => end && spares.vehicles.isAmong(each.vehicles, end)));
    const all = fleet ? spares.vehicles.vehiclesIn(fleet.vehicles) : [];
    const vehicles = all.slice(all.indexOf(ends[0]), all.indexOf(ends[1]) + 1).slice(0, MOST_OF_A_RANGE);
    return vehicles.length > 1 ? { vehicles, length: one ? 1 : 3 } : null;
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

  spares.finder = { ...spares.finder, besideGrounds, offGround, rangeItems, vehicleOf, vehicleRun, MOST_OF_A_RANGE };
})();
