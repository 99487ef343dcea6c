// Which place is meant by a tap: a corner or the middle of a hole near by, a hole that is pointed into, an edge, else the face itself. Pure.
(function () {
  "use strict";

  const { along, cross, cutAway, dot, hitOf, lengthOf, minus, rayAt, seenAt } = spares.model;

  /** Of the diagonal: so much may a place lie behind what is drawn there and still be seen. */
  const BEHIND = 0.004;
  const ON_ROUND = 0.04; // of the radius
  const CORNERS = { square: Math.SQRT2, hexagon: 2 / Math.sqrt(3) }; // over corners of over flats
  const CORE = 0.75; // pitches from crest to core: 0.61 of ISO 68-1, up to 0.65 of coarse and round ones
  const RIGHT_ON_PX = 8; // as far as a gloved finger slips
  const ASKED = 40; // places near by, of which each is looked at whether it is seen

  /** What is pointed into comes before the middle of a hole near by, and before a corner unless the finger is right on it.
   * @param {MeasureScene} told @param {number} x @param {number} y @returns {Snap | null} */
  function snapped(told, x, y) {
    const scene = { ...told, rounds: told.rounds.flatMap(fromBothSides) };
    const hit = hitOf(scene.model, rayAt(scene.camera, scene.size, x, y), scene.cut);
    return marked({ ...scene, rounds: [], reachPx: RIGHT_ON_PX }, x, y) || pointedInto(scene, x, y, hit) || marked(scene, x, y) || onEdge(scene, x, y) || (hit && onFace(scene, hit));
  }

  /** @param {MeasureScene} scene @param {Hit3} hit @returns {Snap} */
  const onFace = (scene, hit) => ({ kind: hit.isCut ? "cut" : "face", at: hit.at, withinMm: scene.model.withinMm, round: null });

  /** A hole that goes through has an opening on either side.
   * @param {ModelRound} round @returns {ModelRound[]} */
  function fromBothSides(round) {
    if (!round.is_inner || !round.is_through || !round.length_mm) return [round];
    return [round, { ...round, at: along(round.at, round.axis, -round.length_mm), axis: minus([0, 0, 0], round.axis) }];
  }

  /** @param {ModelRound} round @returns {Snap} */
  const ofRound = (round) => ({ kind: round.is_inner ? "hole" : "boss", at: round.at, withinMm: round.within_mm, round });

  /** The nearest corner or middle of a hole within reach that is seen.
   * @param {MeasureScene} scene @param {number} x @param {number} y */
  function marked(scene, x, y) {
    const { model, rounds, camera, size, reachPx } = scene;
    /** @type {{ away: number, snap: Snap }[]} */
    const near = [];
    const offer = (/** @type {Snap} */ snap) => {
      const [px, py] = seenAt(camera, size, snap.at);
      const away = Math.hypot(px - x, py - y);
      if (away <= reachPx) near.push({ away, snap });
    };
    for (let i = 0; i < model.corners.length; i += 3) {
      const at = /** @type {Point} */ ([model.corners[i], model.corners[i + 1], model.corners[i + 2]]);
      offer({ kind: "corner", at, withinMm: model.cornerWithinMm, round: null });
    }
    for (const round of rounds) if (round.is_inner) offer(ofRound(round)); // the middle of a boss may lie in the air of its bore
    near.sort((one, other) => one.away - other.away);
    return near.slice(0, ASKED).find(({ snap }) => isSeen(scene, snap.at))?.snap || null;
  }

  /** The smallest round whose wall is hit, hole whose opening is pointed into, or boss on whose end the finger is near the middle.
   * @param {MeasureScene} scene @param {number} x @param {number} y @param {Hit3 | null} hit */
  function pointedInto(scene, x, y, hit) {
    const ray = rayAt(scene.camera, scene.size, x, y);
    const meant = scene.rounds.filter((round) => (hit && !hit.isCut && isOnWall(round, hit.at))
      || (round.is_inner ? isInOpening(scene, round, ray, hit) : hit !== null && isOnEnd(scene, round, x, y, hit)));
    const turnedAway = (/** @type {ModelRound} */ round) => dot(round.axis, ray.along);
    meant.sort((one, other) => one.size_mm - other.size_mm || turnedAway(one) - turnedAway(other));
    return meant.length ? ofRound(meant[0]) : null;
  }

  /** From where to where the wall is from the axis: a polygon's from its flats to its corners, a thread's from core to crest.
   * @param {ModelRound} round */
  function wallOf(round) {
    const radius = round.size_mm / 2;
    if (round.shape === "thread") return [radius - CORE * (round.pitch_mm ?? 0), radius];
    return [radius, radius * (round.shape ? CORNERS[round.shape] : 1)];
  }

  /** @param {ModelRound} round @param {Point} at */
  function isOnWall(round, at) {
    const away = minus(at, round.at);
    const deep = -dot(away, round.axis);
    const radius = round.size_mm / 2;
    const slack = radius * ON_ROUND + round.within_mm;
    const [least, most] = wallOf(round);
    const far = lengthOf(along(away, round.axis, deep));
    return far >= least - slack && far <= most + slack && deep >= -slack && deep <= (round.length_mm ?? 0) + slack;
  }

  /** Is there material at the middle of the boss's end, and within reach of the finger, which is on that end as well?
   * @param {MeasureScene} scene @param {ModelRound} round @param {number} x @param {number} y @param {Hit3} hit */
  function isOnEnd(scene, round, x, y, hit) {
    const { model, camera, size, cut, reachPx } = scene;
    const [px, py] = seenAt(camera, size, round.at);
    if (Math.hypot(px - x, py - y) > reachPx) return false;
    const middle = hitOf(model, rayAt(camera, size, px, py), cut);
    const isAtEnd = (/** @type {Hit3 | null} */ each) => each !== null && !each.isCut && Math.abs(dot(minus(each.at, round.at), round.axis)) <= slackOf(scene);
    const beside = minus(hit.at, round.at);
    return isAtEnd(middle) && isAtEnd(hit) && lengthOf(beside) <= round.size_mm / 2 + slackOf(scene);
  }

  /** @param {MeasureScene} scene @param {ModelRound} round @param {SightRay} ray @param {Hit3 | null} hit */
  function isInOpening(scene, round, ray, hit) {
    const towards = dot(ray.along, round.axis);
    if (towards > -0.05) return false; // from behind, or edge-on
    const far = dot(minus(round.at, ray.from), round.axis) / towards;
    const at = along(ray.from, ray.along, far);
    if (lengthOf(minus(at, round.at)) > round.size_mm / 2 || cutAway(scene.cut, at)) return false;
    return hit === null || dot(minus(hit.at, at), ray.along) >= -slackOf(scene);
  }

  /** The nearest place on a line of the part within reach that is seen.
   * @param {MeasureScene} scene @param {number} x @param {number} y @returns {Snap | null} */
  function onEdge(scene, x, y) {
    const { model, camera, size, cut, reachPx } = scene;
    const { points, faces, lines } = model;
    /** @type {{ away: number, at: Point }[]} */
    const near = [];
    const place = (/** @type {number} */ i) => /** @type {Point} */ ([points[3 * i], points[3 * i + 1], points[3 * i + 2]]);
    for (let i = 0; i < faces.length; i += 1) {
      if (!lines[i]) continue;
      const [one, other] = [place(faces[i]), place(faces[i % 3 === 2 ? i - 2 : i + 1])];
      const [a, b] = [seenAt(camera, size, one), seenAt(camera, size, other)];
      const [rx, ry] = [b[0] - a[0], b[1] - a[1]];
      const share = Math.min(Math.max(((x - a[0]) * rx + (y - a[1]) * ry) / (rx * rx + ry * ry || 1), 0), 1);
      const away = Math.hypot(a[0] + share * rx - x, a[1] + share * ry - y);
      const at = along(one, minus(other, one), share);
      if (away <= reachPx && !cutAway(cut, at)) near.push({ away, at });
    }
    near.sort((one, other) => one.away - other.away);
    const seen = near.slice(0, ASKED).find(({ at }) => isSeen(scene, at));
    return seen ? { kind: "edge", at: seen.at, withinMm: model.withinMm, round: null } : null;
  }

  /** Nothing lies before it, and it is not cut away.
   * @param {MeasureScene} scene @param {Point} at */
  function isSeen(scene, at) {
    if (cutAway(scene.cut, at)) return false;
    const [x, y] = seenAt(scene.camera, scene.size, at);
    const ray = rayAt(scene.camera, scene.size, x, y);
    const hit = hitOf(scene.model, ray, scene.cut);
    return hit === null || dot(minus(hit.at, at), ray.along) >= -slackOf(scene);
  }

  /** @param {MeasureScene} scene */
  const slackOf = ({ model }) => BEHIND * lengthOf(minus(model.box.high, model.box.low)) + model.withinMm;

  /** A place that the part itself has; any other lies just where the finger fell, and no ± of it would be true.
   * @param {Snap} snap */
  const isOfThePart = ({ kind }) => kind === "corner" || kind === "hole" || kind === "boss";

  /** How far apart two places are; two rounds side by side from axis to axis.
   * @param {Snap} one @param {Snap} other @returns {Distance} */
  function between(one, other) {
    const way = minus(other.at, one.at);
    const withinMm = one.withinMm + other.withinMm;
    const apart = one.round && other.round && lengthOf(cross(one.round.axis, other.round.axis)) < 1e-3 ? lengthOf(cross(way, one.round.axis)) : 0;
    if (apart > withinMm) return { mm: apart, withinMm, isAxes: true }; // else one behind the other on one axis
    return { mm: lengthOf(way), withinMm, isAxes: false };
  }

  /** With one decimal.
   * @param {number} mm @param {string} decimal */
  const shownMm = (mm, decimal) => mm.toFixed(1).replace(".", decimal);

  /** How far a figure with one decimal may be off: rounded up, what was rounded away counted too.
   * @param {number} withinMm @param {string} decimal */
  const shownWithin = (withinMm, decimal) => shownMm(Math.ceil((withinMm + 0.05) * 10 - 1e-9) / 10, decimal);

  spares.model = { ...spares.model, snapped, isOfThePart, between, shownMm, shownWithin };
})();
