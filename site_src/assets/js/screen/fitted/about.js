// What does the catalogue say of the piece that was fitted there? Judged today by this tablet, from the data of all parts.
(function () {
  "use strict";

  const { againstOther, forgottenOn, judgedTogether, localDay, reasonFor, spokenOf, speaksOf } = spares.judge;
  const { batchAmong } = spares.labels;
  const FROM_BEST = ["fit", "ask", "no"];

  /** Of the batch: the other part that it is of, and when it was released.
   * @param {FinderData} data @param {string} part @param {string} batch @returns {BatchFound} */
  function foundOf(data, part, batch) {
    const namesOf = (/** @type {PartRecord} */ record) => (record.batches || []).map(([name]) => name);
    const meant = batchAmong(batch, data.records.flatMap(namesOf)) ?? batch;
    const owner = data.records.find((record) => namesOf(record).includes(meant));
    if (!owner) return { other: "", released: "", is_known: false };
    if (owner.number !== part) return { other: owner.number, released: "", is_known: true, name: owner.name, batch: meant, stopped: againstOther(data, owner, meant) };
    const at = (owner.batches || []).findIndex(([name]) => name === batch);
    const told = owner.grounds.flatMap((ground) => (ground[5] || []).map((row) => data.pieces[row[at]]));
    const day = told.find((piece) => piece?.piece_released === "released")?.piece_released_on;
    return { other: "", released: typeof day === "string" ? day : "", is_known: true };
  }

  /** The verdict on a piece of the batch at that place of the vehicle: of several labels the one that it is of. Null where
   * nothing can be judged.
   * @param {FinderData} data @param {string} part @param {FittedSite} site @param {string} vehicle @param {string} batch @returns {OfAny | null} */
  function standsAt(data, part, site, vehicle, batch) {
    const { table, unknown_piece: unknown, words } = globalThis.sparesRules;
    const spoken = spokenOf(data, part, { batch, unknown }) || [];
    const there = spoken.filter((ground) => ground.fleet === site.fleet && ground.place === site.name && speaksOf(ground.fleet, ground.vehicles, { number: vehicle, fleets: [site.fleet] }));
    const day = localDay(new Date());
    const revision = ((data.records.find((record) => record.number === part)?.batches || []).find(([name]) => name === batch) || [])[1];
    const own = there.filter((ground) => (ground.label ?? globalThis.sparesFitted.parts[part].revision) === revision);
    const ended = spares.screen.endedBefore(part);
    const judged = (own.length ? own : there).map((ground) => {
      const copy = spares.screen.copyFacts(part, () => (ended.length ? forgottenOn(ended, spoken, ground) : null));
      return judgedTogether(ground.permits.map((facts) => ({ ...facts, ...copy })), day, table);
    });
    const kindest = judged.sort((one, other) => FROM_BEST.indexOf(one.verdict) - FROM_BEST.indexOf(other.verdict))[0];
    return kindest ? { verdict: kindest.verdict, word: String(words.verdict[kindest.verdict]), reason: reasonFor(kindest, words) } : null;
  }

  /** @param {string} part @param {FittedSite | undefined} site @param {string} vehicle @param {string} batch "" where nothing went on */
  async function aboutFitted(part, site, vehicle, batch) {
    const data = await spares.screen.partsData();
    const about = batch ? foundOf(data, part, batch) : { other: "", released: "" };
    try {
      return { about, stands: site && batch ? standsAt(data, part, site, vehicle, batch) : null };
    } catch (reason) {
      console.error("spares: whether what was fitted may be there cannot be judged.", reason);
      return { about, stands: null };
    }
  }

  spares.screen = { ...spares.screen, aboutFitted };
})();
