// The part cut open by a plane across one of its own axes. Pure.
(function () {
  "use strict";

  const { back, turned } = spares.model;

  /** Beyond the part, so that its edge is never seen. */
  const MORE = 0.02;

  /** Whether a place is cut away.
   * @param {PlaneCut | null} cut @param {Point} place */
  const cutAway = (cut, place) => cut !== null && cut.sign * (place[cut.axis] - cut.at) > 0;

  /** A cut whose near half goes, as one looks at the part.
   * @param {Camera} camera @param {ModelBox} box @param {number} axis @param {number} share 0 to 1 along the axis @returns {PlaneCut} */
  function facingCut(camera, box, axis, share) {
    const eye = turned(back(camera.turn), [0, 0, 1]);
    return { axis, at: box.low[axis] + share * (box.high[axis] - box.low[axis]), sign: eye[axis] < 0 ? -1 : 1 };
  }

  /** Where the plane meets the surface: ends of straight pieces, 6 numbers each.
   * @param {TurnModel} model @param {PlaneCut} cut */
  function cutLines({ points, faces }, cut) {
    const found = [];
    for (let i = 0; i < faces.length; i += 3) {
      const ends = [];
      for (let side = 0; side < 3 && ends.length < 6; side += 1) {
        const [a, b] = [3 * faces[i + side], 3 * faces[i + ((side + 1) % 3)]];
        const [here, there] = [points[a + cut.axis] - cut.at, points[b + cut.axis] - cut.at];
        if (here < 0 === there < 0) continue;
        const share = here / (here - there);
        for (let axis = 0; axis < 3; axis += 1) ends.push(axis === cut.axis ? cut.at : points[a + axis] + share * (points[b + axis] - points[a + axis]));
      }
      if (ends.length === 6) found.push(...ends);
    }
    return Float32Array.from(found);
  }

  /** The plane as two triangles, a little larger than the part: 18 numbers.
   * @param {ModelBox} box @param {PlaneCut} cut */
  function cutSheet(box, cut) {
    const [one, two] = [(cut.axis + 1) % 3, (cut.axis + 2) % 3];
    const corner = (/** @type {boolean} */ isFar, /** @type {boolean} */ isHigh) => {
      const at = [0, 0, 0];
      const end = (/** @type {number} */ axis, /** @type {boolean} */ isThere) => (isThere ? box.high[axis] : box.low[axis]) + (isThere ? MORE : -MORE) * (box.high[axis] - box.low[axis]);
      at[cut.axis] = cut.at;
      at[one] = end(one, isFar);
      at[two] = end(two, isHigh);
      return at;
    };
    const [a, b, c, d] = [corner(false, false), corner(true, false), corner(true, true), corner(false, true)];
    return Float32Array.from([...a, ...b, ...c, ...a, ...c, ...d]);
  }

  spares.model = { ...spares.model, cutAway, facingCut, cutLines, cutSheet };
})();
