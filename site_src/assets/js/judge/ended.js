// Has a copy forgotten a withdrawal or supersession that this tablet has seen? Pure.
//
// An ending is forgotten where the copy tells none of that day for this part, and no approval of a later day speaks of the
// vehicle. What cannot be read of a vehicle counts as forgotten.
(function () {
  "use strict";

  const { dayNumber } = spares.judge;
  const { vehiclesIn } = spares.vehicles;

  /** The day on which what these facts speak of was withdrawn or superseded, the later of both; null where it was not.
   * @param {Facts} facts @returns {string | null} */
  function endedOn(facts) {
    const days = [facts.withdrawn_on, facts.superseded_on].filter((day) => typeof day === "string" && dayNumber(day) !== null);
    return /** @type {string[]} */ (days).sort().pop() || null;
  }

  /** What a copy tells of a part's endings.
   * @param {Spoken[]} grounds @returns {Ending[]} */
  function endingsOf(grounds) {
    return grounds.flatMap(({ fleet, vehicles, permits }) => {
      const day = permits.map(endedOn).filter(Boolean).sort().pop();
      return day ? [{ fleet, vehicles, day }] : [];
    });
  }

  /** What a tablet knows of a part's endings, with what it sees now; the same list where that is nothing new.
   * @param {Ending[]} known @param {Ending[]} seen @returns {Ending[]} */
  function learned(known, seen) {
    const name = (/** @type {Ending} */ each) => JSON.stringify([each.fleet, each.vehicles, each.day]);
    const names = new Set(known.map(name));
    const added = seen.filter((each) => !names.has(name(each)) && names.add(name(each)));
    return added.length ? [...known, ...added] : known;
  }

  /** The day of the ending that the copy has forgotten for a ground; null where it has forgotten none.
   * @param {Ending[]} known of the part @param {Spoken[]} grounds of the part @param {Spoken} ground @returns {string | null} */
  function forgottenOn(known, grounds, ground) {
    if (!known.length) return null;
    const told = new Set(endingsOf(grounds).map((each) => each.day));
    // A letter of before this record never answers an ending: it is taken over only where nothing was withdrawn here.
    const given = ground.permits.filter((facts) => facts.permit === "approval" && facts.taken_over === "no").map((facts) => String(facts.permit_on));
    const days = known
      .filter((each) => each.fleet === ground.fleet && !told.has(each.day) && meet(each.vehicles, ground.vehicles))
      .map((each) => each.day)
      .filter((day) => !given.some((on) => dayNumber(on) !== null && on > day));
    return days.sort().pop() || null;
  }

  /** @param {string[]} one @param {string[]} other */
  function meet(one, other) {
    try {
      const numbers = new Set(vehiclesIn(one));
      return vehiclesIn(other).some((each) => numbers.has(each));
    } catch {
      return true;
    }
  }

  spares.judge = { ...spares.judge, endingsOf, learned, forgottenOn };
})();
