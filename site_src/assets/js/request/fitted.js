// What a fitter typed → rows of a file in the form of generator/records/fitted_file.py, or what is wrong with it. Pure.
(function () {
  "use strict";

  const { line } = spares.finder;
  const { isAmong } = spares.vehicles;
  const BATCH = /^[A-Z]{1,4}-[0-9]{1,8}$/;
  const LONGEST_POSITION = 80;
  const MOST_DAYS = 366;
  /** What contradicts the records, and may be so on the vehicle all the same. */
  const MAY_BE_SO = ["more", "of_other", "early", "taken", "gone"];

  /** Where a part fits a vehicle, each place once.
   * @param {FittedData} data @param {string} part @param {string} vehicle as the fleets write it @returns {FittedSite[]} */
  function sitesOf(data, part, vehicle) {
    /** @type {Map<string, FittedSite>} */
    const found = new Map();
    for (const [fleet, place, vehicles, most] of data.parts[part]?.fits || []) {
      const own = data.fleets.find((each) => each.id === fleet);
      if (!own || !isAmong(own.vehicles, vehicle) || (vehicles.length && !isAmong(vehicles, vehicle))) continue;
      const id = `${fleet} ${place}`;
      found.set(id, { id, fleet, place, name: own.places[place] || place, most: Math.max(most, found.get(id)?.most || 0) });
    }
    return [...found.values()];
  }

  /** A whole number as typed; NaN for anything else, 0 for nothing.
   * @param {string} text */
  const whole = (text) => (text.trim() === "" ? 0 : /^[0-9]{1,4}$/.test(text.trim()) ? Number(text.trim()) : NaN);

  /** A label's number of a batch: "b 0147" is B-0147.
   * @param {string} text */
  function labelled(text) {
    const typed = /^([a-z]{1,4})[\s_–-]?([0-9]{1,8})$/i.exec(text.trim());
    return typed ? `${typed[1].toUpperCase()}-${typed[2]}` : text.trim();
  }

  /** As the records compare two positions.
   * @param {string} text */
  const alike = (text) => text.normalize("NFC").toLowerCase().replace(/\s+/g, " ").trim();

  /** The batches that sit at a position by the records and the rows that wait: `here` at that one, `loose` where nobody said at which. Null
   * where none is named, or nobody knows that each carries one.
   * @param {FittedData} data @param {string} part @param {FittedSite | undefined} site @param {TypedFitted} typed @param {FittedRow[]} waiting
   * @returns {FittedSits | null} */
  function sitsAt(data, part, site, typed, waiting) {
    const there = site && data.parts[part].positions[site.id];
    const told = there?.sits;
    const at = alike(typed.position);
    if (!there || !told || !at) return null;
    const of = (told[typed.vehicle] || []).map(([nth, batch]) => ({ at: nth < 0 ? "" : alike(there.names[nth]), batch }));
    const sits = { here: of.filter((each) => each.at === at).map((each) => each.batch), loose: of.filter((each) => !each.at).map((each) => each.batch) };
    for (const row of waiting) {
      if (row.part !== part || `${row.fleet} ${row.place}` !== site.id || row.vehicle !== typed.vehicle || alike(row.position || "") !== at) continue;
      for (let n = row.removed || 0; n > 0; n -= 1) {
        const [from] = [sits.here, sits.loose].filter((each) => each.includes(row.removed_batch || ""));
        if (from) from.splice(from.indexOf(row.removed_batch || ""), 1);
        else if (!row.removed_batch) sits.here.pop();
      }
      for (let n = row.count || 0; n > 0; n -= 1) sits.here.push(row.batch || "");
    }
    return sits;
  }

  /** What is wrong, by field, as a key of words.wrong.
   * @param {TypedFitted} typed @param {FittedData} data @param {string} part @param {string} today ISO date @param {BatchFound} about
   * what the catalogue knows of the batch that went on @returns {Record<string, string>} */
  function fittedProblems(typed, data, part, today, about) {
    /** @type {Record<string, string>} */
    const wrong = {};
    const sites = sitesOf(data, part, typed.vehicle);
    const site = sites.find((each) => each.id === typed.site);
    if (!sites.length) wrong.vehicle = "vehicle";
    else if (!site) wrong.site = "site";
    if (line(typed.position).length > LONGEST_POSITION) wrong.position = "long";
    Object.assign(wrong, wentOn(typed, site, about), cameOff(typed, site, data, about));
    if (!typed.count.trim() && !typed.batch.trim() && !typed.removed.trim() && !wrong.removed) wrong.count = "nothing";
    if (!data.roles.some((role) => role.id === typed.by)) wrong.by = "by";
    const ago = daysAgo(typed.day, today);
    if (!(ago >= 0 && ago <= MOST_DAYS)) wrong.day = "day";
    else if (typed.batch.trim() && about.released && typed.day < about.released) wrong.day = "early";
    return typed.as_found ? Object.fromEntries(Object.entries(wrong).filter(([, key]) => !mayBeSo(key))) : wrong;
  }

  /** @param {string} key of words.wrong */
  const mayBeSo = (key) => MAY_BE_SO.includes(key);

  /** @param {TypedFitted} typed @param {FittedSite | undefined} site @param {BatchFound} about */
  function wentOn(typed, site, about) {
    /** @type {Record<string, string>} */
    const wrong = {};
    const n = whole(typed.count);
    if (!typed.batch.trim() && !typed.count.trim()) return wrong;
    if (!typed.batch.trim()) wrong.batch = "no_batch";
    else if (about.label) wrong.batch = about.label;
    else if (!BATCH.test(labelled(typed.batch))) wrong.batch = "batch";
    else if (about.other) wrong.batch = "of_other";
    if (!(n >= 1)) wrong.count = "count";
    else if (n > (site?.most ?? n)) wrong.count = "more";
    else if (about.sits && about.sits.here.length && !typed.removed.trim()) wrong.removed = "taken";
    return wrong;
  }

  /** @param {TypedFitted} typed @param {FittedSite | undefined} site @param {FittedData} data @param {BatchFound} about */
  function cameOff(typed, site, data, about) {
    /** @type {Record<string, string>} */
    const wrong = {};
    const n = whole(typed.removed);
    if (about.removed_label) wrong.removed_batch = about.removed_label;
    else if (typed.removed_batch.trim() && !BATCH.test(labelled(typed.removed_batch))) wrong.removed_batch = "batch";
    if (!typed.removed.trim()) {
      if (typed.removed_batch.trim() || typed.why) wrong.removed = "no_removed";
      return wrong;
    }
    if (!(n >= 1)) wrong.removed = "count";
    else if (n > (site?.most ?? n)) wrong.removed = "more";
    const off = labelled(typed.removed_batch);
    if (off && !wrong.removed_batch && about.sits && ![...about.sits.here, ...about.sits.loose].includes(off)) wrong.removed_batch = "gone";
    if (!data.whys.includes(typed.why)) wrong.why = "why";
    return wrong;
  }

  /** @param {string} day @param {string} today @returns {number} NaN where either is no day */
  function daysAgo(day, today) {
    const [from, to] = [day, today].map((each) => (/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(each) ? Date.parse(`${each}T00:00:00Z`) : NaN));
    return Math.round((to - from) / 86_400_000);
  }

  /** @param {TypedFitted} typed what has no problem @param {FittedData} data @param {string} part @param {string} row drawn once for it @returns {FittedRow} */
  function fittedRow(typed, data, part, row) {
    const site = /** @type {FittedSite} */ (sitesOf(data, part, typed.vehicle).find((each) => each.id === typed.site));
    /** @type {FittedRow} */
    const told = { day: typed.day, fleet: site.fleet, vehicle: typed.vehicle, place: site.place };
    if (line(typed.position)) told.position = line(typed.position);
    told.part = part;
    if (typed.batch.trim()) Object.assign(told, { batch: labelled(typed.batch), count: whole(typed.count) });
    if (typed.removed_batch.trim()) told.removed_batch = labelled(typed.removed_batch);
    if (typed.removed.trim()) Object.assign(told, { removed: whole(typed.removed), why: typed.why });
    return { ...told, ...(typed.as_found ? { as_found: true } : {}), by: typed.by, row };
  }

  /** The file's text.
   * @param {FittedRow[]} rows @param {FittedData} data @param {string} day on which it is made */
  function fittedText(rows, data, day) {
    const value = (/** @type {string} */ key, /** @type {string | number | boolean} */ said) => (typeof said === "number" || key === "day" ? String(said) : JSON.stringify(said));
    const lines = rows.map((row) => `  - {${Object.entries(row).map(([key, said]) => `${key}: ${value(key, said)}`).join(", ")}}\n`);
    return `fitted: ${data.form}\nrailway: ${JSON.stringify(data.railway)}\ndepot: ${JSON.stringify(data.depot)}\nmade_on: ${day}\nrows:\n${lines.join("")}`;
  }

  spares.request = { ...spares.request, sitesOf, sitsAt, fittedProblems, mayBeSo, fittedRow, fittedText };
})();
