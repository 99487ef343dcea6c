// A newer catalogue waits on this tablet: for which parts does it say otherwise?
//
// Its rules and facts come from its own worker, which checks every byte of them. What cannot be read counts as saying
// otherwise: a newer copy never makes a word kinder, and one that is not understood makes it more careful.
(function (root) {
  "use strict";

  const ANSWER_WITHIN_MS = 8000;
  /** A data file of ours sets one global on its first line. */
  const ASSIGNED = /^globalThis\.\w+=(?:JSON\.parse\((.*)\)|(.*));$/;

  /** @typedef {{ fleet: string, place: string, label: string | null, vehicles: string[], permits: any[] }} Spoken */
  /** @type {null | "unread" | { data: any, rules: any }} */
  let newer = null;
  /** @type {Map<string, string>} answers by part and day */
  let answers = new Map();

  /** The value that a data file sets. @param {string} text */
  function valueIn(text) {
    const found = ASSIGNED.exec(text.slice(0, text.indexOf("\n")));
    if (!found) throw new Error("no data file of ours");
    return found[1] === undefined ? JSON.parse(found[2]) : JSON.parse(JSON.parse(found[1]));
  }

  /** The verdict for each vehicle that grounds speak of. @param {Spoken[]} grounds @param {string} day @param {any[]} table */
  function verdictsOf(grounds, day, table) {
    const found = new Map();
    for (const ground of grounds) {
      const facts = ground.permits.map((permit) => ({ ...permit, copy: "whole", newer_copy: "none" }));
      const { verdict } = root.spares.judgedTogether(facts, day, table);
      for (const vehicle of vehiclesIn(ground.vehicles)) {
        found.set(JSON.stringify([ground.fleet, ground.place, ground.label, vehicle]), verdict);
      }
    }
    return found;
  }

  /** @param {string[]} ranges such as "401-412" */
  function vehiclesIn(ranges) {
    return ranges.flatMap((range) => {
      const [first, last] = range.split("-").map(Number);
      return Array.from({ length: (last || first) - first + 1 }, (_, at) => first + at);
    });
  }

  /** Whether two sets of verdicts are the same, vehicle by vehicle. @param {Map<string, string>} one @param {Map<string, string>} other */
  function sameVerdicts(one, other) {
    return one.size === other.size && [...one].every(([key, verdict]) => other.get(key) === verdict);
  }

  /** What a copy says of one part. @param {any} data of its finder @param {string} number @returns {Spoken[] | null} */
  function spokenOf(data, number) {
    const record = data.records.find((/** @type {any} */ each) => each.kind === "part" && each.number === number);
    return record ? root.spares.groundsOf(data, record) : null;
  }

  /** What this page itself says of the part. @param {string} number @returns {Spoken[] | null} */
  function spokenHere(number) {
    if (root.sparesPart && root.sparesPart.number === number) {
      return root.sparesPart.grounds.map((/** @type {any} */ ground) => (
        { ...ground, label: ground.label_revision, vehicles: ground.vehicles.split(", ").filter(Boolean).map((/** @type {string} */ each) => each.replace("–", "-")) }));
    }
    return root.sparesIndex ? spokenOf(root.sparesIndex, number) : null;
  }

  /** Does the newer catalogue say the same of a part? @param {string} number @returns {string} none, same, differs, unread */
  function newerCopy(number) {
    if (newer === null || newer === "unread") return newer || "none";
    const day = root.spares.localDay(new Date());
    const key = `${number} ${day}`;
    if (!answers.has(key)) answers.set(key, compared(newer, number, day));
    return answers.get(key) || "unread";
  }

  /** @param {{ data: any, rules: any }} coming @param {string} number @param {string} day */
  function compared(coming, number, day) {
    try {
      const [before, after] = [spokenHere(number), spokenOf(coming.data, number)];
      if (!before) return "unread";
      if (!after) return "differs";
      const own = verdictsOf(before, day, root.sparesRules.table);
      return sameVerdicts(own, verdictsOf(after, day, coming.rules.table)) ? "same" : "differs";
    } catch (reason) {
      console.error("spares: the newer catalogue cannot be understood.", reason);
      return "differs";
    }
  }

  /** @param {null | "unread" | { data: any, rules: any }} found */
  function learned(found) {
    newer = found;
    answers = new Map();
    root.spares.copyChanged();
  }

  /** Ask the waiting worker what its catalogue says. @param {ServiceWorker} waiting */
  function newerWaits(waiting) {
    learned("unread");
    const channel = new MessageChannel();
    const late = setTimeout(() => channel.port1.close(), ANSWER_WITHIN_MS);
    channel.port1.onmessage = ({ data }) => {
      clearTimeout(late);
      channel.port1.close();
      try {
        learned({ data: valueIn(data.finder), rules: valueIn(data.rules) });
      } catch (reason) {
        console.error("spares: the newer catalogue cannot be read.", reason);
      }
    };
    waiting.postMessage({ spares: "verdicts" }, [channel.port2]);
  }

  root.spares = Object.assign(root.spares || {}, { newerCopy, newerWaits, verdictsOf, sameVerdicts, valueIn });
})(/** @type {any} */ (globalThis));
