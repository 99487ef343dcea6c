// Would a size that was asked for fit the part? Held only against features of its kind, within the table of accepted
// deviations (generator/pages/finder/fits.yml, with reasons and sources). Pure.
(function () {
  "use strict";

  const { fold, pieces, sizeMatches, ofTheFloor, isOfShape, kindsOfShape } = spares.finder;

  /** Kinds whose sizes are those of the whole or of what nothing goes into. */
  const OUTER = ["length", "width", "height", "thickness", "outside", "flats", "tips"];
  /** Of these, what a flange or a rim may be; its height is said so. */
  const AROUND = ["outside", "flats", "tips"];
  /** Three sizes are those of the whole. */
  const ALL_SIDES = 3;
  /** A feature that is there and does not fit still tells what kind of part is meant. */
  const HAS_IT = 0.3;
  const HARDLY = 0.6;
  /** What no size that is called round is held against. */
  const NOT_ROUND = ["square", "slot", "strap-slot", "keyway", "flats", "spacing", "width-inside", "module", "teeth"];
  const MOST_VALUES = 3;
  const NEAR_HERE = 3;
  /** As the mesh of a round thing is a little less than its circle. */
  const SAME_SIDE = 0.3;
  const ONE_MORE = 1e-9;
  const NO_TABLE = { below: 0, above: 0 };

  /** @param {PartRecord} record @returns {KnownFeature[]} */
  function featuresOf(record) {
    return [
      ...(record.checks || []).map((check) => ({ kind: check.feature || "outside", mm: check.mm, what: check.name, allowed: check.allowed || [0, 0], pitch: 0, side: "" })),
      ...(record.features || []).map((each) => ({ kind: each.feature, mm: each.mm, what: each.name, allowed: [0, 0], pitch: each.pitch || 0, side: each.side || "", isNamed: true })),
    ];
  }

  /** Whether every value of a size fits another dimension of the part; else what the part has instead.
   * @param {Index} index @param {number} at @param {Size} size @returns {Fit} */
  function fitOf(index, at, size) {
    const called = size.kinds ? [] : calledNear(index, at, size);
    if (called.length) return { ...laidOn(called, size, (value, feature) => isWithin(index, value, feature, size)), isCalled: true };
    const named = size.kinds ? namedFit(index, at, size) : null;
    if (named && (named.fits || named.isCalled || size.shape || !isSoft(index, at, size))) return named;
    const whole = wholeFit(index, at, named ? { ...size, axis: "any" } : size);
    return whole.fits || !named ? whole : named;
  }

  /** A word before the number may be the part's own name: "seat rail 46", "end plug 22".
   * @param {Index} index @param {number} at @param {Size} size */
  function isSoft(index, at, size) {
    if (!size.isBefore) return false;
    size.terms = size.terms || pieces(size.named).map((word) => Number(index.ids.get(index.termOf(word))));
    return size.terms.every((id) => index.ownWords[at].has(id));
  }

  /** @param {Index} index @param {number} at @param {Size} size @returns {Fit} */
  function namedFit(index, at, size) {
    const all = index.features[at];
    const kinds = size.shape ? kindsOfShape(size.kinds || [], size.shape) : size.kinds || [];
    const had = size.shape ? all.filter((feature) => isOfShape(feature, size.shape)) : all;
    const kind = kinds.find((each) => had.some((feature) => feature.kind === each));
    if (!kind && size.shape) return { fits: false, here: nearest(otherShapes(all, size), size.values[0]), isOther: true };
    if (size.thread) return threadFit(index, at, size);
    if (kinds[0] === "outside" || (kinds.includes("outside") && !kind)) return outsideFit(index, at, size);
    if (!kind) return { fits: false, here: nearest(had.filter((feature) => index.fits.mating[feature.kind]), size.values[0]), isOther: true };
    const called = calledSo(index, had.filter((feature) => kinds.includes(feature.kind)), size);
    const own = called.length ? called : had.filter((feature) => feature.kind === kind && !isForAnother(index, feature, size));
    if (!own.length) return { fits: false, here: nearest(had.filter((feature) => feature.kind === kind), size.values[0]), isOther: true };
    return { ...laidOn(own, size, (value, feature) => isWithin(index, value, feature, size)), isCalled: called.length > 0 };
  }

  /** What the part has where another shape was asked for: of the feature's own kinds, else of any that mates.
   * @param {KnownFeature[]} had @param {Size} size */
  function otherShapes(had, size) {
    const own = had.filter((feature) => size.kinds?.includes(feature.kind));
    return own.length ? own : had.filter((feature) => !OUTER.includes(feature.kind));
  }

  /** A shape without a size, "with a square hole": a part that has none of it is not meant.
   * @param {Index} index @param {number} at @param {Size} size @returns {Fit} */
  function shapeFit(index, at, size) {
    const kinds = kindsOfShape(size.kinds || [], size.shape);
    const own = index.features[at].filter((feature) => kinds.includes(feature.kind));
    const other = own[0] ? { kind: own[0].kind, mm: own[0].mm, what: own[0].what } : null;
    return own.some((feature) => isOfShape(feature, size.shape)) ? { fits: true, here: null } : { fits: false, here: other, isOther: true };
  }

  /** "wall 88": what no kind of feature is called may still be one of this part, unless it is the part's own name.
   * @param {Index} index @param {number} at @param {Size} size */
  function calledNear(index, at, size) {
    if (!size.near) return [];
    size.nearTerms = size.nearTerms || nearTerms(index, size.near);
    const words = size.nearTerms.filter((word) => !index.ownWords[at].has(Number(index.ids.get(word))));
    return words.length ? index.features[at].filter((feature) => words.some((word) => wordsOf(index, feature).includes(word))) : [];
  }

  /** A word as it stands, and what it means in the catalogue's words.
   * @param {Index} index @param {string} word */
  function nearTerms(index, word) {
    const floor = index.floor.length && !index.ids.has(index.termOf(word)) ? ofTheFloor(index, word)?.texts || [] : [];
    return [word, ...floor.flatMap(pieces)].map(index.termOf);
  }

  /** Those whose own name holds what was said, "wire" or "run": they alone are meant; one that is called just so before the others.
   * @param {Index} index @param {KnownFeature[]} had @param {Size} size */
  function calledSo(index, had, size) {
    for (const said of saidOf(index, size)) {
      const called = had.filter((feature) => said.every((word) => wordsOf(index, feature).includes(word)));
      const way = index.language.ways[size.way] && index.termOf(index.language.ways[size.way]);
      const just = called.filter((feature) => (way ? wordsOf(index, feature).includes(way) : !size.axis && wordsOf(index, feature).length === said.length));
      if (called.length) return just.length ? just : called;
    }
    return [];
  }

  /** The words of the feature that was said, as they are and as the languages of the floor mean them.
   * @param {Index} index @param {Size} size @returns {string[][]} */
  function saidOf(index, size) {
    if (size.said) return size.said;
    const words = pieces(size.named);
    const ways = [words, ...(index.floor.length && words.length === 1 ? (ofTheFloor(index, words[0])?.texts || []).map(pieces) : [])];
    size.said = ways.map((each) => each.filter((word) => !index.fillers.has(fold(word))).map(index.termOf)).filter((each) => each.length);
    return size.said;
  }

  /** @param {Index} index @param {KnownFeature} feature */
  function wordsOf(index, feature) {
    feature.words = feature.words || pieces(feature.what).filter((word) => !index.fillers.has(fold(word))).map(index.termOf);
    return feature.words;
  }

  /** "Pin 10" is not meant by a "clip for the wire": what goes in there is another thing.
   * @param {Index} index @param {KnownFeature} feature @param {Size} size */
  function isForAnother(index, feature, size) {
    feature.takes = feature.takes || takenBy(index, feature);
    if (!feature.takes.length) return false;
    const things = saidOf(index, size).flat().filter((word) => index.goesIn.has(word));
    const isSame = (/** @type {string} */ word) => feature.takes?.some((other) => word === other || isAlike(index, word, other));
    return things.length > 0 && !things.some((word) => isSame(word) || wordsOf(index, feature).includes(word));
  }

  /** The words behind "for" in its name.
   * @param {Index} index @param {KnownFeature} feature */
  function takenBy(index, feature) {
    const words = pieces(feature.what).map(fold);
    const at = words.findIndex((word) => index.language.meant_for.includes(word));
    return at < 0 ? [] : words.slice(at + 1).filter((word) => !index.fillers.has(word)).map(index.termOf);
  }

  /** @param {Index} index @param {string} word @param {string} other */
  function isAlike(index, word, other) {
    const [one, two] = [index.ids.get(word), index.ids.get(other)];
    return one !== undefined && two !== undefined && (index.everyday.get(one) || []).includes(two);
  }

  /** What is named itself, a collar or a skirt; else the whole.
   * @param {Index} index @param {number} at @param {Size} size @returns {Fit} */
  function outsideFit(index, at, size) {
    const words = new Set(saidOf(index, size).flat());
    const isNamed = (/** @type {KnownFeature} */ feature) => words.has(wordsOf(index, feature)[0] || "");
    const named = index.features[at].filter((feature) => isNamed(feature) && !index.fits.mating[feature.kind]);
    const just = size.axis ? [] : calledSo(index, named, size);
    const own = just.length ? just : named;
    const fit = own.length ? laidOn(own, size, (value, feature) => isWithin(index, value, feature, size)) : null;
    return fit && (fit.fits || size.values.length < 2) ? fit : wholeFit(index, at, { ...size, axis: "any" }, AROUND);
  }

  /** @param {Index} index @param {number} at @param {Size} size @returns {Fit} */
  function threadFit(index, at, size) {
    const { mm, pitch, side } = /** @type {ThreadName} */ (size.thread);
    const had = index.features[at];
    const threads = had.filter((feature) => feature.kind === "thread");
    if (!threads.length) return screwFit(index, had, size);
    const named = threads.filter((feature) => feature.isNamed);
    if (mm && named.length) {
      const same = named.find((feature) => feature.mm === mm && (!pitch || feature.pitch === pitch) && (!side || !feature.side || feature.side === side));
      return same ? { fits: true, here: null, taken: [same] } : { fits: false, here: nearest(named.filter((feature) => !side || feature.side === side), mm) };
    }
    const crests = laidOn(threads, size, (value, feature) => isWithin(index, value, feature, size));
    const wrong = pitch ? named.find((feature) => feature.pitch && feature.pitch !== pitch) : undefined;
    return wrong ? { fits: false, here: { mm: wrong.pitch, what: wrong.what } } : crests;
  }

  /** M8 asks for a hole from the fine to the coarse one of that screw.
   * @param {Index} index @param {KnownFeature[]} had @param {Size} size @returns {Fit} */
  function screwFit(index, had, size) {
    const holes = had.filter((feature) => feature.kind === "screw-hole" || feature.kind === "slot");
    const limits = index.fits.screws[size.values[0]];
    if (!holes.length || !limits || size.thread?.pitch) return { fits: false, here: nearest(holes, size.values[0]) };
    const hole = holes.find(({ mm }) => mm >= limits[0] - ONE_MORE && mm <= limits[1] + ONE_MORE);
    return hole ? { fits: true, here: null, taken: [hole] } : { fits: false, here: nearest(holes, size.values[0]) };
  }

  /** The sizes of the whole, in any order, with those that a name or nothing at all was said of.
   * @param {Index} index @param {number} at @param {Size} size @param {string[]} [kinds] of the features that are held against, too @returns {Fit} */
  function wholeFit(index, at, size, kinds = OUTER) {
    const { box, modelled } = index.sizes[at];
    const had = index.features[at].filter((feature) => ((!size.axis && size.values.length < ALL_SIDES) || kinds.includes(feature.kind)) && !(size.round && NOT_ROUND.includes(feature.kind)) && isOfShape(feature, size.shape));
    const sides = (/** @type {number[]} */ each) => sidesOf(index, at, size.axis === "long" && size.values.length === 1 && !size.exact ? each.slice(0, 1) : each);
    const fits = (/** @type {number} */ value, /** @type {KnownFeature} */ feature) => isWithin(index, value, feature, size);
    const first = laidOn([...sides(box), ...had], size, fits);
    return first.fits || !modelled.length ? first : { ...first, fits: laidOn([...sides(modelled), ...had], size, fits).fits };
  }

  /** A side that is what a check measures is held to the check.
   * @param {Index} index @param {number} at @param {number[]} box @returns {KnownFeature[]} */
  function sidesOf(index, at, box) {
    const checked = index.features[at].filter((feature) => OUTER.includes(feature.kind) && !feature.isNamed);
    return box.map((mm) => {
      const check = checked.find((feature) => Math.abs(feature.mm - mm) <= SAME_SIDE);
      return check ? { ...check, what: "" } : { kind: "overall", mm, what: "", allowed: [0, 0], pitch: 0, side: "" };
    });
  }

  /** Every value on a feature of its own; else what is nearest to the one that fits none.
   * @param {KnownFeature[]} had @param {Size} size @param {(value: number, feature: KnownFeature) => boolean} fits @returns {Fit} */
  function laidOn(had, size, fits) {
    const values = size.values.slice(0, MOST_VALUES);
    /** @type {(step: number, taken: number[]) => number[] | null} */
    const place = (step, taken) => {
      if (step === values.length) return taken;
      for (let i = 0; i < had.length; i += 1) {
        const placed = !taken.includes(i) && fits(values[step], had[i]) ? place(step + 1, [...taken, i]) : null;
        if (placed) return placed;
      }
      return null;
    };
    const taken = values.length ? place(0, []) : null;
    if (taken) return { fits: true, here: null, taken: taken.map((i) => ({ mm: had[i].mm, what: had[i].what, kind: had[i].kind })) };
    const wrong = values.find((value) => !had.some((feature) => fits(value, feature)));
    return { fits: false, here: nearest(had, wrong ?? values[0]) };
  }

  /** @param {KnownFeature[]} had @param {number} value @returns {Dimension | null} */
  function nearest(had, value) {
    const near = had.filter((feature) => feature.mm < NEAR_HERE * value && value < NEAR_HERE * feature.mm);
    if (!near.length) return null;
    const { mm, what, kind } = near.reduce((best, each) => (Math.abs(each.mm - value) < Math.abs(best.mm - value) ? each : best));
    return { mm, what, kind };
  }

  /** @param {Index} index @param {number} value @param {KnownFeature} feature @param {Size} size */
  function isWithin(index, value, feature, size) {
    const off = value - feature.mm;
    if (off >= -feature.allowed[0] - ONE_MORE && off <= feature.allowed[1] + ONE_MORE) return true;
    const { below, above } = limits(index, feature, size);
    return off >= -below - ONE_MORE && off <= above + ONE_MORE;
  }

  /** Whether a side of the whole is as long as asked, off a tape.
   * @param {Index} index @param {number} value @param {number} mm */
  function isNearSide(index, value, mm) {
    const row = index.fits.overall.find(({ to }) => Math.min(value, mm) <= to);
    return row !== undefined && Math.abs(value - mm) <= (row.near || 0);
  }

  /** @param {Index} index @param {KnownFeature} feature @param {Size} size @returns {{ below: number, above: number }} */
  function limits(index, feature, size) {
    const mating = index.fits.mating[feature.kind];
    const isChecked = !mating && feature.allowed.some((mm) => mm > 0);
    const row = (mating || (isChecked ? index.fits.checked : index.fits.overall)).find(({ to }) => feature.mm <= to);
    if (!row) return NO_TABLE;
    if (mating) {
      const tape = (!size.caliper && row.tape) || 0;
      return { below: Math.max(row.below || 0, tape), above: Math.max(row.above || 0, tape) };
    }
    const most = size.caliper && !size.about && !size.step && !size.given ? row.caliper || 0 : Math.max((size.about && row.near) || row.tape || 0, size.step);
    const reading = size.given ? Math.min(size.given, most) : most;
    const [below, above] = isChecked && size.caliper ? feature.allowed : [0, 0];
    return { below: below + reading, above: above + reading };
  }

  /** How well each record answers a size: 1 where it fits by kind, a little where it has the kind.
   * @param {Index} index @param {Size} size @returns {Float32Array} */
  function fitMatches(index, size) {
    const match = sizeMatches(index, size);
    for (let at = 0; at < match.length; at += 1) {
      const [has, isNamed] = hasKind(index.features[at], size);
      if (match[at] === 0 && !isNamed) match[at] = has ? HAS_IT : 0; // nothing near: nothing that fits
      else match[at] = (has || !size.kinds) && fitOf(index, at, size).fits ? 1 : Math.max(has ? HAS_IT : 0, HARDLY * match[at]);
    }
    return match;
  }

  /** Whether a record has a feature of the kind, and one that no check tells of.
   * @param {KnownFeature[]} had @param {Size} size @returns {[boolean, boolean]} */
  function hasKind(had, size) {
    let [has, isNamed] = [false, false];
    for (const feature of had) {
      if (!size.kinds?.includes(feature.kind)) continue;
      has = true;
      if (feature.isNamed) isNamed = true;
    }
    return [has, isNamed];
  }

  spares.finder = { ...spares.finder, featuresOf, fitOf, shapeFit, fitMatches, isNearSide, isWithin };
})();
