// What does a query say that it is not? "knob but not for the window", "window knob not 405". Pure.
//
// What is denied finds nothing, and what it speaks of is never sure and stands behind. "The lid does not close" denies no
// part: a word is only denied that stands so in the name of one, and not right behind "does" or "will".
(function () {
  "use strict";

  const { fold, pieces, english, ofVehicle, vehicleRun } = spares.finder;

  const FURTHEST = 3;
  const SURELY_A_VEHICLE = 100;

  /** @param {Index} index @param {Rest[]} rest what is no size @returns {{ rest: Rest[], denied: Set<number> }} what is left to find by */
  function deniedIn(index, rest) {
    const denying = new Set(index.language.denied.map(fold));
    /** @type {Set<number>} */
    const denied = new Set();
    /** @type {Set<Rest>} */
    const gone = new Set();
    rest.forEach((chunk, at) => {
      if (!denying.has(fold(chunk.text))) return;
      const next = contentBehind(index, rest, at);
      if (next < 0) return;
      const found = onVehicles(index, rest, at, next) || (isOfAName(index, rest, at, next) ? named(index, rest[next].text) : new Set());
      if (!found.size) return;
      for (const each of found) denied.add(each);
      for (const each of rest.slice(at, next + 1)) gone.add(each);
    });
    return { rest: gone.size ? rest.filter((chunk) => !gone.has(chunk)) : rest, denied };
  }

  /** @param {Index} index @param {Rest[]} rest @param {number} at */
  function contentBehind(index, rest, at) {
    for (let next = at + 1; next <= at + FURTHEST && next < rest.length; next += 1) {
      const word = fold(rest[next].text);
      if (!index.fillers.has(word) && !index.language.vehicles.includes(word)) return next;
    }
    return -1;
  }

  /** The parts of a vehicle, a range of them or a fleet; null where none is meant.
   * @param {Index} index @param {Rest[]} rest @param {number} at @param {number} next @returns {Set<number> | null} */
  function onVehicles(index, rest, at, next) {
    const text = rest[next].text;
    const fleet = index.fleetKeys.get(pieces(fold(text)).join(""));
    /** @type {Set<number>} */
    const found = new Set();
    if (fleet !== undefined) index.records.forEach((record, which) => (record.grounds || []).some((ground) => ground[0] === fleet) && found.add(which));
    const isNamed = rest.slice(at, next).some((each) => index.language.vehicles.includes(fold(each.text)));
    const range = vehicleRun(index, rest, next);
    const vehicles = range ? range.vehicles : isNamed || !(Number(text) < SURELY_A_VEHICLE) ? [text] : [];
    for (const vehicle of vehicles) for (const which of ofVehicle(index, vehicle)) found.add(which);
    return found.size ? found : null;
  }

  /** "not for the window", "knob, not window"; behind "does" it tells of a fault.
   * @param {Index} index @param {Rest[]} rest @param {number} at @param {number} next */
  function isOfAName(index, rest, at, next) {
    const before = rest[at - 1] ? fold(rest[at - 1].text) : "";
    return next > at + 1 || (before !== "" && !index.fillers.has(before));
  }

  /** The parts and requests that are called so, word for word.
   * @param {Index} index @param {string} text */
  function named(index, text) {
    const words = english(index, text).map(fold).filter((word) => !index.faults.has(index.termOf(word)));
    /** @type {Set<number>} */
    const found = new Set();
    index.records.forEach((record, at) => {
      const own = [record.name, ...(record.other_names || [])].flatMap(pieces).map(fold);
      if (words.some((word) => own.includes(word))) found.add(at);
    });
    return found;
  }

  spares.finder = { ...spares.finder, deniedIn };
})();
