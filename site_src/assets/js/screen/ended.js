// What this tablet has seen withdrawn or superseded, kept from copy to copy. Without a place to keep it, nothing is known.
(function () {
  "use strict";

  const KEY = "spares.ended";
  const { endingsOf, groundsOf, learned } = spares.judge;

  /** @type {{ text: string, parts: Record<string, Ending[]> }} what was read last: lists ask for every part */
  let read = { text: "{}", parts: {} };

  /** @returns {Record<string, Ending[]>} by the number of the part */
  function kept() {
    try {
      const text = localStorage.getItem(KEY) || "{}";
      if (text !== read.text) read = { text, parts: partsIn(JSON.parse(text)) };
      return read.parts;
    } catch {
      return {};
    }
  }

  /** @param {unknown} found @returns {Record<string, Ending[]>} what of it can be read */
  function partsIn(found) {
    const entries = Object.entries(found && typeof found === "object" ? found : {});
    return Object.fromEntries(entries.filter(([, endings]) => Array.isArray(endings)).map(([number, endings]) => [number, endings.filter(isEnding)]));
  }

  /** @param {unknown} each @returns {each is Ending} */
  function isEnding(each) {
    const { fleet, vehicles, day } = /** @type {Ending} */ (each || {});
    return typeof fleet === "string" && typeof day === "string" && Array.isArray(vehicles) && vehicles.every((one) => typeof one === "string");
  }

  /** What this tablet has seen of a part.
   * @param {string} number @returns {Ending[]} */
  function endedBefore(number) {
    const parts = kept();
    return Object.prototype.hasOwnProperty.call(parts, number) ? parts[number] : [];
  }

  /** Keep what this copy tells of parts.
   * @param {[string, Ending[]][]} seen by the number of the part */
  function keepEnded(seen) {
    const changed = seen
      .map(([number, endings]) => /** @type {[string, Ending[]]} */ ([number, learned(endedBefore(number), endings)]))
      .filter(([number, endings]) => endings.length > endedBefore(number).length);
    if (!changed.length) return;
    try {
      localStorage.setItem(KEY, JSON.stringify({ ...kept(), ...Object.fromEntries(changed) }));
    } catch (reason) {
      console.error("spares: what was withdrawn cannot be kept on this tablet.", reason);
    }
  }

  /** Keep what the records of all parts tell.
   * @param {FinderData} data */
  function keepEndedIn(data) {
    try {
      keepEnded(endedIn(data));
    } catch (reason) {
      console.error("spares: what was withdrawn cannot be read.", reason);
    }
  }

  /** @param {FinderData} data @returns {[string, Ending[]][]} */
  function endedIn(data) {
    const { names, values, permits } = data.facts;
    const places = ["withdrawn_on", "superseded_on"].map((name) => names.indexOf(name));
    const ended = new Set(permits.flatMap((facts, at) => (places.some((place) => facts[place] >= 0 && values[facts[place]] !== null) ? [at] : [])));
    const told = data.records.filter((record) => record.kind === "part" && record.grounds.some((ground) => ground[4].some((at) => ended.has(at))));
    return told.map((record) => [record.number, endingsOf(groundsOf(data, record))]);
  }

  spares.screen = { ...spares.screen, endedBefore, keepEnded, keepEndedIn };
})();
