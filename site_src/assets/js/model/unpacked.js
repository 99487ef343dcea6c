// Bytes → model, as generator/geometry/model/packed.py packs it, once they are inflated. Pure.
(function () {
  "use strict";

  const FORM = 1;
  const HALF_DIAGONAL = Math.sqrt(3) / 2;

  /** A model; throws where the bytes are none of that form or cut short.
   * @param {Uint8Array} bytes @returns {TurnModel} */
  function unpackedModel(bytes) {
    const long = bytes[0] | (bytes[1] << 8) | (bytes[2] << 16) | (bytes[3] << 24);
    const head = JSON.parse(String.fromCharCode(...bytes.subarray(4, 4 + long)));
    const counts = [head.points, head.faces, head.corners];
    if (head.form !== FORM || !counts.every((each) => Number.isInteger(each) && each >= 0)) throw new Error("no model of this form");
    const sizes = [6 * head.points, 9 * head.faces, Math.ceil((3 * head.faces) / 8), 6 * head.corners];
    const starts = sizes.reduce((all, size) => [...all, all[all.length - 1] + size], [4 + long]);
    if (starts[4] !== bytes.length) throw new Error("the model is cut short");
    const [points, faces, lines, corners] = sizes.map((size, at) => bytes.subarray(starts[at], starts[at] + size));
    const model = {
      points: places(points, head.points, head.low_mm, head.step_mm),
      faces: indices(faces, head.faces, head.points),
      lines: bits(lines, 3 * head.faces),
      corners: places(corners, head.corners, head.low_mm, head.step_mm),
      isClosed: head.is_closed,
      withinMm: head.within_mm,
      cornerWithinMm: head.step_mm * HALF_DIAGONAL,
      madeOf: head.made_of,
    };
    return { ...model, box: boxOf(model.points) };
  }

  /** The way from one to the next along each axis, zigzag, low bytes before high ones.
   * @param {Uint8Array} bytes @param {number} count @param {Point} low @param {number} step */
  function places(bytes, count, low, step) {
    const found = new Float64Array(3 * count);
    for (let axis = 0; axis < 3; axis += 1) {
      const [lows, highs] = [2 * axis * count, (2 * axis + 1) * count];
      let at = 0;
      for (let i = 0; i < count; i += 1) {
        const zigzag = bytes[lows + i] | (bytes[highs + i] << 8);
        at = (at + ((zigzag >> 1) ^ -(zigzag & 1))) & 0xffff;
        found[3 * i + axis] = low[axis] + step * at;
      }
    }
    return found;
  }

  /** How far each corner is below the next one that is new.
   * @param {Uint8Array} bytes @param {number} count @param {number} points */
  function indices(bytes, count, points) {
    const all = 3 * count;
    const found = new Uint32Array(all);
    let fresh = 0;
    for (let i = 0; i < all; i += 1) {
      const below = bytes[i] | (bytes[all + i] << 8) | (bytes[2 * all + i] << 16);
      found[i] = fresh - below;
      if (below > fresh || fresh - below >= points) throw new Error("a face points nowhere");
      if (below === 0) fresh += 1;
    }
    return found;
  }

  /** @param {Uint8Array} bytes @param {number} count */
  function bits(bytes, count) {
    return Uint8Array.from({ length: count }, (_none, i) => (bytes[i >> 3] >> (i & 7)) & 1);
  }

  /** @param {Float64Array} points @returns {ModelBox} */
  function boxOf(points) {
    const low = /** @type {Point} */ ([Infinity, Infinity, Infinity]);
    const high = /** @type {Point} */ ([-Infinity, -Infinity, -Infinity]);
    for (let i = 0; i < points.length; i += 1) {
      low[i % 3] = Math.min(low[i % 3], points[i]);
      high[i % 3] = Math.max(high[i % 3], points[i]);
    }
    return { low, high };
  }

  spares.model = { ...spares.model, unpackedModel };
})();
