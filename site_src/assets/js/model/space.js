// Points, directions and turns in space. Pure.
(function () {
  "use strict";

  /** @param {Point} a @param {Point} b @returns {Point} */
  const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

  /** @param {Point} a @param {Point} direction @param {number} far @returns {Point} */
  const along = (a, direction, far) => [a[0] + direction[0] * far, a[1] + direction[1] * far, a[2] + direction[2] * far];

  /** @param {Point} a @param {Point} b */
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

  /** @param {Point} a @param {Point} b @returns {Point} */
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

  /** @param {Point} a */
  const lengthOf = (a) => Math.sqrt(dot(a, a));

  /** @param {Point} axis of any length @param {number} radians @returns {Turn} */
  function aboutAxis(axis, radians) {
    const long = lengthOf(axis);
    const share = long > 0 ? Math.sin(radians / 2) / long : 0;
    return [axis[0] * share, axis[1] * share, axis[2] * share, long > 0 ? Math.cos(radians / 2) : 1];
  }

  /** One turn and then another, of length 1 again, so that a thousand of them do not drift.
   * @param {Turn} first @param {Turn} then @returns {Turn} */
  function after(first, then) {
    const [bx, by, bz, bw] = first;
    const [ax, ay, az, aw] = then;
    const x = aw * bx + ax * bw + ay * bz - az * by;
    const y = aw * by - ax * bz + ay * bw + az * bx;
    const z = aw * bz + ax * by - ay * bx + az * bw;
    const w = aw * bw - ax * bx - ay * by - az * bz;
    const long = Math.sqrt(x * x + y * y + z * z + w * w) || 1;
    return [x / long, y / long, z / long, w / long];
  }

  /** @param {Turn} turn @param {Point} a @returns {Point} */
  function turned(turn, a) {
    const axis = /** @type {Point} */ ([turn[0], turn[1], turn[2]]);
    const across = cross(axis, a);
    const twice = cross(axis, along(across, a, turn[3]));
    return along(a, twice, 2);
  }

  /** The turn that undoes one.
   * @param {Turn} turn @returns {Turn} */
  const back = (turn) => [-turn[0], -turn[1], -turn[2], turn[3]];

  spares.model = { ...spares.model, minus, along, dot, cross, lengthOf, aboutAxis, after, turned, back };
})();
