// What does a finger point at: the first face along a ray, or the place where the plane of a cut goes through the part. Pure.
//
// Möller and Trumbore, "Fast, minimum storage ray/triangle intersection", 1997; every face is asked, which takes a millisecond or two.
(function () {
  "use strict";

  const { along, cutAway } = spares.model;

  const GRAZING = 1e-12;
  const ON_EDGE = 1e-9; // of a face's side: a ray at a corner or edge slips between no faces

  /** @param {TurnModel} model @param {SightRay} ray @param {PlaneCut | null} cut @returns {Hit3 | null} */
  function hitOf({ points, faces, isClosed }, ray, cut) {
    const [dx, dy, dz] = ray.along;
    const [ox, oy, oz] = ray.from;
    let nearest = Infinity;
    let found = -1;
    let isBack = false;
    for (let i = 0; i < faces.length; i += 3) {
      const [a, b, c] = [3 * faces[i], 3 * faces[i + 1], 3 * faces[i + 2]];
      const [ax, ay, az] = [points[a], points[a + 1], points[a + 2]];
      const ux = points[b] - ax, uy = points[b + 1] - ay, uz = points[b + 2] - az;
      const vx = points[c] - ax, vy = points[c + 1] - ay, vz = points[c + 2] - az;
      const px = dy * vz - dz * vy, py = dz * vx - dx * vz, pz = dx * vy - dy * vx;
      const size = ux * px + uy * py + uz * pz;
      if (size > -GRAZING && size < GRAZING) continue;
      const tx = ox - ax, ty = oy - ay, tz = oz - az;
      const u = (tx * px + ty * py + tz * pz) / size;
      if (u < -ON_EDGE || u > 1 + ON_EDGE) continue;
      const qx = ty * uz - tz * uy, qy = tz * ux - tx * uz, qz = tx * uy - ty * ux;
      const v = (dx * qx + dy * qy + dz * qz) / size;
      if (v < -ON_EDGE || u + v > 1 + ON_EDGE) continue;
      const far = (vx * qx + vy * qy + vz * qz) / size;
      if (far >= nearest || cutAway(cut, along(ray.from, ray.along, far))) continue;
      nearest = far;
      found = i / 3;
      isBack = size < 0;
    }
    if (found < 0) return null;
    const inside = cut && isClosed && isBack ? onCut(ray, cut) : null;
    return { at: inside || along(ray.from, ray.along, nearest), face: found, isCut: inside !== null };
  }

  /** Where a ray meets the plane of a cut.
   * @param {SightRay} ray @param {PlaneCut} cut @returns {Point | null} */
  function onCut(ray, cut) {
    const towards = ray.along[cut.axis];
    return Math.abs(towards) < GRAZING ? null : along(ray.from, ray.along, (cut.at - ray.from[cut.axis]) / towards);
  }

  spares.model = { ...spares.model, hitOf };
})();
