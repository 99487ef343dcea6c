// What else may a number be that looks like a vehicle's and is none? A size of a found part within its fit, or a whole group of
// a found part's number; near is not enough, for the answers would then be for a vehicle that nobody asked for.
(function () {
  "use strict";

  const { fitOf } = spares.finder;
  /** Which items of a query may be a number that stands alone; "b39" is a word to the finder. */
  const ALONE = ["bare", "number", "word"];

  /** Whether a number is written so between the signs of another: 417 is none of TV-0417.
   * @param {string} number @param {string} text */
  const isGroupOf = (number, text) => number.toLowerCase().split(/[^\p{L}\d]+/u).some((group) => group === text || (group.match(/\d+/g) || []).includes(text));

  /** @param {Index} index @param {Item} item @param {number} at */
  function explains(index, item, at) {
    const record = index.records[at];
    const numbers = [record.number, record.name, ...(record.other_names || []), ...(record.replaces || []).map((each) => each.number)];
    if (numbers.some((number) => isGroupOf(number, item.text))) return true;
    return Boolean(item.size?.values.length) && fitOf(index, at, /** @type {Size} */ (item.size)).fits;
  }

  /** One number of which the words do not say that it is a size: "hinge distance 120", "138 over tappene" do.
   * @param {Size} size */
  const isAlone = (size) => size.values.length === 1 && !size.kinds && !size.axis && !size.given;

  /** The numbers that stand alone in a query and that nothing found explains.
   * @param {Index} index @param {Ranked} ranked @returns {string[]} */
  function unexplained(index, { items, hits }) {
    const alone = items.filter(({ kind, text, size }) => (kind === "size" ? size && isAlone(size) : ALONE.includes(kind)) && /\d/.test(text));
    return alone.filter((item) => !item.isPiece && !item.isNoVehicle && !hits.some(({ at }) => explains(index, item, at))).map((item) => item.text);
  }

  spares.finder = { ...spares.finder, unexplained };
})();
