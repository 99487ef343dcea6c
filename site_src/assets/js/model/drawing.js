// What is drawn of a model: faces with soft normals that stop at lines, and edges with what is needed to see an outline. Pure.
(function () {
  "use strict";

  /** Edges between faces that turn less than this never make an outline one could see. */
  const FLAT = 0.99999;
  // How strongly a line is drawn, by the angle of its faces: generator/geometry/render/lines.py.
  const ANGLES = [28, 36, 44, 70];
  const STRENGTHS = [0.35, 0.5, 0.7, 0.85];

  /** @param {TurnModel} model @returns {ModelDrawing} */
  function drawingOf(model) {
    const across = acrossOf(model);
    const beside = besideOf(model);
    return { places: spread(model), normals: softNormals(model, across, beside), edges: edgesOf(model, across, beside) };
  }

  /** Square to each face, as long as twice its area.
   * @param {TurnModel} model */
  function acrossOf({ points, faces }) {
    const across = new Float64Array(faces.length);
    for (let i = 0; i < faces.length; i += 3) {
      const [a, b, c] = [3 * faces[i], 3 * faces[i + 1], 3 * faces[i + 2]];
      const [ux, uy, uz] = [points[b] - points[a], points[b + 1] - points[a + 1], points[b + 2] - points[a + 2]];
      const [vx, vy, vz] = [points[c] - points[a], points[c + 1] - points[a + 1], points[c + 2] - points[a + 2]];
      across[i] = uy * vz - uz * vy;
      across[i + 1] = uz * vx - ux * vz;
      across[i + 2] = ux * vy - uy * vx;
    }
    return across;
  }

  /** For each half-edge the one of the other face at the same edge; -1 where there is none, or where more than two meet.
   * @param {TurnModel} model */
  function besideOf({ faces, points }) {
    const count = points.length / 3;
    /** @type {Map<number, number>} */
    const first = new Map();
    const beside = new Int32Array(faces.length).fill(-1);
    for (let i = 0; i < faces.length; i += 1) {
      const [a, b] = [faces[i], faces[next(i)]];
      const key = Math.min(a, b) * count + Math.max(a, b);
      const other = first.get(key);
      if (other === undefined) first.set(key, i);
      else if (beside[other] === -1) { beside[other] = i; beside[i] = other; }
    }
    return beside;
  }

  /** @param {number} i a corner of a face */
  const next = (i) => (i % 3 === 2 ? i - 2 : i + 1);

  /** @param {TurnModel} model */
  function spread({ points, faces }) {
    const places = new Float32Array(3 * faces.length);
    for (let i = 0; i < faces.length; i += 1) for (let axis = 0; axis < 3; axis += 1) places[3 * i + axis] = points[3 * faces[i] + axis];
    return places;
  }

  /** One normal for each point and smooth area, weighted by area, so that a flat face beside a fillet stays flat.
   * @param {TurnModel} model @param {Float64Array} across @param {Int32Array} beside */
  function softNormals({ faces, lines }, across, beside) {
    const group = Int32Array.from({ length: faces.length }, (_none, i) => i);
    const root = (/** @type {number} */ i) => {
      while (group[i] !== i) { group[i] = group[group[i]]; i = group[i]; }
      return i;
    };
    for (let i = 0; i < faces.length; i += 1) {
      const other = beside[i];
      if (other <= i || lines[i]) continue;
      const isFlipped = faces[i] === faces[other]; // two faces that run the same way along the edge
      group[root(i)] = root(isFlipped ? other : next(other));
      group[root(next(i))] = root(isFlipped ? next(other) : other);
    }
    const sums = new Float64Array(3 * faces.length);
    for (let i = 0; i < faces.length; i += 1) {
      const [at, face] = [3 * root(i), 3 * Math.floor(i / 3)];
      for (let axis = 0; axis < 3; axis += 1) sums[at + axis] += across[face + axis];
    }
    const normals = new Float32Array(3 * faces.length);
    for (let i = 0; i < faces.length; i += 1) {
      const at = 3 * root(i);
      const long = Math.hypot(sums[at], sums[at + 1], sums[at + 2]) || 1;
      for (let axis = 0; axis < 3; axis += 1) normals[3 * i + axis] = sums[at + axis] / long;
    }
    return normals;
  }

  /** @param {TurnModel} model @param {Float64Array} across @param {Int32Array} beside */
  function edgesOf({ faces, points, lines }, across, beside) {
    const found = [];
    for (let i = 0; i < faces.length; i += 1) {
      const other = beside[i];
      if (other !== -1 && other < i) continue;
      const one = normalOf(across, i);
      const two = other === -1 ? one : normalOf(across, other);
      const bend = one[0] * two[0] + one[1] * two[1] + one[2] * two[2];
      const isLine = lines[i] || other === -1;
      if (!isLine && bend > FLAT) continue;
      const [a, b] = [3 * faces[i], 3 * faces[next(i)]];
      found.push(points[a], points[a + 1], points[a + 2], points[b], points[b + 1], points[b + 2], ...one, ...two, !isLine ? 0 : other === -1 ? 0.85 : strength(bend));
    }
    return Float32Array.from(found);
  }

  /** @param {Float64Array} across @param {number} i @returns {Point} */
  function normalOf(across, i) {
    const at = 3 * Math.floor(i / 3);
    const long = Math.hypot(across[at], across[at + 1], across[at + 2]) || 1;
    return [across[at] / long, across[at + 1] / long, across[at + 2] / long];
  }

  /** @param {number} bend the cosine of the angle */
  function strength(bend) {
    const angle = (Math.acos(Math.max(-1, Math.min(1, bend))) * 180) / Math.PI;
    const above = ANGLES.findIndex((each) => angle <= each);
    if (above <= 0) return above === 0 ? STRENGTHS[0] : STRENGTHS[3];
    const share = (angle - ANGLES[above - 1]) / (ANGLES[above] - ANGLES[above - 1]);
    return STRENGTHS[above - 1] + share * (STRENGTHS[above] - STRENGTHS[above - 1]);
  }

  spares.model = { ...spares.model, drawingOf };
})();
