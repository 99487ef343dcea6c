// Does a newer catalogue say otherwise of a part? What cannot be read counts as saying otherwise: a newer copy never makes
// a word kinder, and one that is not understood makes it more careful. Pure.
(function () {
  "use strict";

  const { groundsOf, judgedTogether, ofPiece, withTicks } = spares.judge;
  const { vehiclesIn } = spares.vehicles;
  /** A data file of ours sets one global on its first line. */
  const ASSIGNED = /^globalThis\.\w+=(?:JSON\.parse\((.*)\)|(.*));$/;
  /** @type {Piece} */
  const NO_PIECE = { batch: null, unknown: null };

  /** The value that a data file sets.
   * @param {string} text */
  function valueIn(text) {
    const found = ASSIGNED.exec(text.slice(0, text.indexOf("\n")));
    if (!found) throw new Error("no data file of ours");
    return found[1] === undefined ? JSON.parse(found[2]) : JSON.parse(JSON.parse(found[1]));
  }

  /** The verdict for each vehicle that grounds speak of.
   * @param {Spoken[]} grounds @param {string} day @param {Step[]} table */
  function verdictsOf(grounds, day, table) {
    const found = new Map();
    for (const ground of grounds) {
      const facts = ground.permits.map((permit) => ({ ...permit, copy: "whole", newer_copy: "none", forgotten: null }));
      const told = [judgedTogether(facts, day, table).verdict, ...ticked(facts, day, table)].join(" ");
      for (const vehicle of vehiclesIn(ground.vehicles)) {
        found.set(JSON.stringify([ground.fleet, ground.place, ground.label, vehicle]), told);
      }
    }
    return found;
  }

  /** What is to be ticked before fitting, and the verdict once it is: on one page alone it is ticked, and a newer copy that
   * wants more ticked says otherwise.
   * @param {Facts[]} permits @param {string} day @param {Step[]} table @returns {string[]} */
  function ticked(permits, day, table) {
    if (permits.every((facts) => !Array.isArray(facts.before_fitting) || !facts.before_fitting.length)) return [];
    const texts = permits.flatMap((facts) => facts.before_fitting || []).sort();
    const all = permits.map((facts) => withTicks(facts, new Set(texts)));
    return [judgedTogether(all, day, table).verdict, JSON.stringify(texts)];
  }

  /** Whether two sets of verdicts are the same, vehicle by vehicle.
   * @param {Map<string, string>} one @param {Map<string, string>} other */
  function sameVerdicts(one, other) {
    return one.size === other.size && [...one].every(([key, verdict]) => other.get(key) === verdict);
  }

  /** What a copy says of one part, of the piece in the hand where its batch was said.
   * @param {FinderData} data of its finder @param {string} number @param {Piece} [piece] @returns {Spoken[] | null} */
  function spokenOf(data, number, piece = NO_PIECE) {
    const record = data.records.find((each) => each.kind === "part" && each.number === number);
    if (!record) return null;
    const told = { batches: record.batches || [], pieces: data.pieces };
    return groundsOf(data, record).map((ground) => ofThePiece(ground, told, piece));
  }

  /** What a part's own page says of it.
   * @param {PartData} part @param {Piece} [piece] @returns {Spoken[]} */
  function spokenOn(part, piece = NO_PIECE) {
    return part.grounds.map((ground) => ofThePiece(
      { ...ground, label: ground.label_revision, vehicles: ground.vehicles.split(", ").filter(Boolean).map((each) => each.replace("–", "-")) },
      part, piece));
  }

  /** @param {Spoken} ground @param {{ batches: [string, string][], pieces: Facts[] }} told @param {Piece} piece @returns {Spoken} */
  function ofThePiece(ground, told, { batch, unknown }) {
    return batch === null ? ground : { ...ground, permits: ofPiece(ground.permits, ground.pieces, batch, told, /** @type {Facts} */ (unknown)) };
  }

  /** Both copies judged on one day, each by its own table.
   * @param {Spoken[] | null} before of the piece in the hand, too @param {Rules} rules
   * @param {{ data: FinderData, rules: Rules }} coming @param {string} number @param {string} day
   * @param {string | null} [batch] of the piece in the hand @returns {"same" | "differs" | "unread"} */
  function compared(before, rules, coming, number, day, batch = null) {
    const after = spokenOf(coming.data, number, { batch, unknown: coming.rules.unknown_piece });
    if (!before) return "unread";
    if (!after) return "differs";
    const own = verdictsOf(before, day, rules.table);
    return sameVerdicts(own, verdictsOf(after, day, coming.rules.table)) ? "same" : "differs";
  }

  spares.judge = { ...spares.judge, valueIn, spokenOf, spokenOn, compared };
})();
