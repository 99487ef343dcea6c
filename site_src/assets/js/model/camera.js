// From where is the part looked at: home, orbit, pan, zoom, pinch. A parallel projection, so that what is equally long looks so. Pure.
(function () {
  "use strict";

  const { aboutAxis, after, along, back, lengthOf, minus, turned } = spares.model;

  // As our pictures look at it: generator/geometry/render/camera.py.
  const AZIMUTH = (-35 * Math.PI) / 180;
  const ELEVATION = (28 * Math.PI) / 180;
  const MARGIN = 0.1;
  /** Radians for a way of half the smaller side of the canvas. */
  const QUICK = 1.7;
  const SMALLEST = 0.3; // of the size at which all is seen
  const LARGEST = 60;

  /** @param {ModelBox} box @returns {Point} */
  const middleOf = (box) => along(box.low, minus(box.high, box.low), 0.5);

  /** All of the box, from the front left and above.
   * @param {ModelBox} box @param {CanvasSize} size @returns {Camera} */
  function homeCamera(box, size) {
    const turn = after(aboutAxis([0, 0, 1], -AZIMUTH), aboutAxis([1, 0, 0], ELEVATION - Math.PI / 2));
    const half = minus(box.high, middleOf(box));
    const seen = [1, -1].flatMap((x) => [1, -1].map((y) => turned(turn, [half[0] * x, half[1] * y, half[2]])));
    const wide = Math.max(...seen.map((each) => Math.abs(each[0])));
    const high = Math.max(...seen.map((each) => Math.abs(each[1])));
    const room = (/** @type {number} */ px) => Math.max(px, 1) * (1 - 2 * MARGIN);
    const mmPerPx = Math.max((2 * wide) / room(size.width), (2 * high) / room(size.height));
    return { turn, at: middleOf(box), mmPerPx: mmPerPx > 0 ? mmPerPx : 1 };
  }

  /** Where a place is seen: x, y, and how far towards the eye in mm.
   * @param {Camera} camera @param {CanvasSize} size @param {Point} place @returns {Point} */
  function seenAt(camera, size, place) {
    const [x, y, z] = turned(camera.turn, minus(place, camera.at));
    return [size.width / 2 + x / camera.mmPerPx, size.height / 2 - y / camera.mmPerPx, z];
  }

  /** What is seen at a spot lies on this ray; it begins in the plane of `at`.
   * @param {Camera} camera @param {CanvasSize} size @param {number} x @param {number} y @returns {SightRay} */
  function rayAt(camera, size, x, y) {
    const undo = back(camera.turn);
    const aside = turned(undo, [(x - size.width / 2) * camera.mmPerPx, (size.height / 2 - y) * camera.mmPerPx, 0]);
    return { from: along(camera.at, aside, 1), along: turned(undo, [0, 0, -1]) };
  }

  /** Turned as a ball under a finger that moves so far.
   * @param {Camera} camera @param {CanvasSize} size @param {number} dx @param {number} dy @returns {Camera} */
  function orbited(camera, size, dx, dy) {
    const radians = (Math.hypot(dx, dy) / Math.max(Math.min(size.width, size.height) / 2, 1)) * QUICK;
    return { ...camera, turn: after(camera.turn, aboutAxis([dy, dx, 0], radians)) };
  }

  /** @param {Camera} camera @param {number} dx @param {number} dy @returns {Camera} */
  function panned(camera, dx, dy) {
    const way = turned(back(camera.turn), [-dx * camera.mmPerPx, dy * camera.mmPerPx, 0]);
    return { ...camera, at: along(camera.at, way, 1) };
  }

  /** Larger by a factor; what is seen at the spot stays there.
   * @param {Camera} camera @param {CanvasSize} size @param {number} x @param {number} y @param {number} factor @param {ModelBox} box @returns {Camera} */
  function zoomed(camera, size, x, y, factor, box) {
    const whole = homeCamera(box, size).mmPerPx;
    const mmPerPx = Math.min(Math.max(camera.mmPerPx / factor, whole / LARGEST), whole / SMALLEST);
    const [dx, dy] = [x - size.width / 2, y - size.height / 2];
    const grown = camera.mmPerPx / mmPerPx;
    const moved = panned({ ...camera, mmPerPx }, dx - dx * grown, dy - dy * grown);
    const reach = lengthOf(minus(box.high, box.low));
    const away = minus(moved.at, middleOf(box));
    const far = lengthOf(away);
    // Nobody loses the part: its middle stays within reach.
    return far > reach ? { ...moved, at: along(middleOf(box), away, reach / far) } : moved;
  }

  /** Two fingers: larger or smaller, moved and twisted as they do.
   * @param {Camera} camera @param {CanvasSize} size @param {[ScreenSpot, ScreenSpot]} before @param {[ScreenSpot, ScreenSpot]} now @param {ModelBox} box @returns {Camera} */
  function pinched(camera, size, before, now, box) {
    const [from, to] = [before, now].map(([a, b]) => ({ x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, far: Math.hypot(b[0] - a[0], b[1] - a[1]), angle: Math.atan2(b[1] - a[1], b[0] - a[0]) }));
    const moved = panned(camera, to.x - from.x, to.y - from.y);
    const grown = zoomed(moved, size, to.x, to.y, from.far > 1 && to.far > 1 ? to.far / from.far : 1, box);
    const twist = aboutAxis([0, 0, 1], from.angle - to.angle);
    const under = rayAt(grown, size, to.x, to.y).from;
    const twisted = { ...grown, turn: after(grown.turn, twist) };
    const off = minus(under, rayAt(twisted, size, to.x, to.y).from);
    return { ...twisted, at: along(twisted.at, off, 1) };
  }

  spares.model = { ...spares.model, homeCamera, seenAt, rayAt, orbited, panned, zoomed, pinched };
})();
