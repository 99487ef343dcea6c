// What does the model have that the record does not name? Weaker than the record: it finds, ranks and is told, and never makes sure.
//
// A part of which the record names a feature that could be meant is not lifted: what somebody wrote down stands. Pure.
(function () {
  "use strict";

  const { fitOf, isWithin } = spares.finder;

  /** Which kinds a feature of the model may be called, the likeliest first; see generator/pages/finder/modelled.py.
   * @type {Record<string, string[]>} */
  const CALLED = {
    square: ["square"], hexagon: ["flats"], thread: ["thread"], d: ["d-bore"], flats: ["flats"], slot: ["slot", "strap-slot"],
    hole: ["bore", "seat", "pin-hole", "screw-hole", "panel-hole", "ring"], boss: ["shank", "pin", "plug", "outside"],
  };
  /** What the record may call a round thing of another shape: it speaks against a round one, too.
   * @type {Record<string, string[]>} */
  const ALSO_NAMED = { hole: ["d-bore", "grip"], boss: ["tips"] };
  /** Which of them a shape means; of the others the model tells nothing.
   * @type {Record<string, string[]>} */
  const OF_SHAPE = { "": Object.keys(CALLED), round: ["hole", "boss"], square: ["square"], d: ["d"], hexagon: ["hexagon"], oval: ["slot"], threaded: ["thread"] };
  /** What is asked for as an opening is no boss, whatever else the word may mean. */
  const OPENINGS = ["slot", "strap-slot", "screw-hole", "panel-hole", "pin-hole"];
  const ROUND = [...CALLED.hole, ...CALLED.boss];
  /** More than what hardly fits, less than what the record says. */
  const MODELLED = 0.66;
  /** As a pitch is measured off a mesh; the series steps by a quarter. */
  const PITCH = 0.1;
  /** As a hole's edge is measured off a mesh. */
  const MEASURED = 0.1;
  const NEAR_HERE = 2;

  /** @typedef {{ kind: string, against: string[] }} Meant */

  /** @param {PartRecord} record @returns {ModelSize[]} */
  function modelSizes(record) {
    return Object.entries(record.modelled || {}).flatMap(([kind, sizes]) => sizes.map(([mm, n, pitch]) => ({ kind, mm, n: n || 1, pitch: pitch || 0 })));
  }

  /** Which features of models could be meant by a size, each with the kind of the record's that it would be and those that
   * speak against it; empty where no single feature is meant. A number behind "Ø" is any round one.
   * @param {Size} size @returns {Map<string, Meant>} */
  function meantBy(size) {
    const kinds = size.kinds || (size.round && !size.axis ? ROUND : []);
    const asked = size.shape === "threaded" ? ["thread", ...kinds] : kinds;
    /** @type {Map<string, Meant>} */
    const meant = new Map();
    for (const model of size.values.length === 1 ? OF_SHAPE[size.shape] || [] : []) {
      const kind = asked.find((each) => CALLED[model].includes(each));
      if (!kind || (model === "boss" && OPENINGS.includes(asked[0]))) continue;
      meant.set(model, { kind, against: [...CALLED[model], ...(ALSO_NAMED[model] || [])].filter((each) => asked.includes(each)) });
    }
    return meant;
  }

  /** What somebody wrote down of such a feature stands.
   * @param {Index} index @param {number} at @param {Meant} meant */
  function isNamed(index, at, { against }) {
    return index.features[at].some((feature) => against.includes(feature.kind));
  }

  /** @param {Index} index @param {ModelSize} own @param {Size} size @param {Meant} meant */
  function isMet(index, own, size, { kind }) {
    const [value] = size.values;
    const { thread } = size;
    if (!thread) return isOfLimits(index, kind, value, own.mm, size);
    if (own.kind === "thread") {
      if (thread.pitch && Math.abs(own.pitch - thread.pitch) > PITCH) return false;
      return isOfLimits(index, "thread", value, own.mm, size) || isOfLimits(index, "thread", own.mm, value, size); // crests lie within the nominal outside, beyond it inside
    }
    const screw = index.fits.screws[value];
    return Boolean(screw && !thread.pitch && own.mm >= screw[0] - MEASURED && own.mm <= screw[1] + MEASURED);
  }

  /** @param {Index} index @param {string} kind @param {number} value @param {number} mm @param {Size} size */
  function isOfLimits(index, kind, value, mm, size) {
    return isWithin(index, value, { kind, mm, what: "", allowed: [0, 0], pitch: 0, side: "" }, size);
  }

  /** Lifts what the model alone answers, in place.
   * @param {Index} index @param {Size} size @param {Float32Array} match of the records @returns {Map<number, ModelSize>} by record what answers */
  function liftModelled(index, size, match) {
    /** @type {Map<number, ModelSize>} */
    const lifted = new Map();
    const meant = meantBy(size);
    for (let at = 0; meant.size && at < match.length; at += 1) {
      if (match[at] >= MODELLED) continue;
      for (const own of index.modelled[at]) {
        const as = meant.get(own.kind);
        if (!as || !isMet(index, own, size, as) || isNamed(index, at, as) || fitOf(index, at, size).fits) continue;
        lifted.set(at, own);
        match[at] = MODELLED;
        break;
      }
    }
    return lifted;
  }

  /** What the model has instead of what was asked, where the record says nothing of the kind.
   * @param {Index} index @param {number} at @param {Size} size @returns {ModelSize | null} */
  function modelInstead(index, at, size) {
    const [value] = size.values;
    const meant = meantBy(size);
    const near = index.modelled[at].filter(({ kind, mm }) => {
      const as = meant.get(kind);
      return as !== undefined && mm < NEAR_HERE * value && value < NEAR_HERE * mm && !isNamed(index, at, as);
    });
    return near.length ? near.reduce((best, each) => (Math.abs(each.mm - value) < Math.abs(best.mm - value) ? each : best)) : null;
  }

  spares.finder = { ...spares.finder, modelSizes, liftModelled, modelInstead };
})();
