// What is measured, drawn over the canvas: the places that were tapped, the way between them, a ring about a hole, and the figure.
(function () {
  "use strict";

  const { along, cross, lengthOf, seenAt } = spares.model;
  const SVG = "http://www.w3.org/2000/svg";
  const RING = 48;
  const PLATE_PX = 22; // half of the plate that carries the figure, with room

  /** @param {string} tag @param {Record<string, string | number>} attributes */
  function drawn(tag, attributes) {
    const element = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
    return element;
  }

  /** @param {SVGElement} over @param {Snap[]} snaps @param {string} figure @param {Camera} camera @param {CanvasSize} size */
  function showMarks(over, snaps, figure, camera, size) {
    const places = snaps.map((snap) => seenAt(camera, size, snap.at));
    const rings = snaps.flatMap((snap) => (snap.round ? [ring(snap.round, camera, size)] : []));
    const all = rings.flatMap((points) => [drawn("polygon", { class: "turn__under", points }), drawn("polygon", { class: "turn__ring", points })]);
    if (places.length === 2) {
      const [[x1, y1], [x2, y2]] = places;
      all.push(drawn("line", { class: "turn__under", x1, y1, x2, y2 }), drawn("line", { class: "turn__way", x1, y1, x2, y2 }));
    }
    for (const [cx, cy] of places) all.push(drawn("circle", { class: "turn__place", cx, cy, r: 6 }));
    if (figure && places.length) {
      const [x, y] = places.length === 2 ? [(places[0][0] + places[1][0]) / 2, (places[0][1] + places[1][1]) / 2] : [places[0][0], places[0][1]];
      const half = figure.length * 5.6 + 10;
      const at = [Math.min(Math.max(x, half), size.width - half), besideOf(places, rings, y, size)];
      const text = drawn("text", { class: "turn__figure", x: at[0], y: at[1] });
      text.textContent = figure;
      all.push(drawn("rect", { class: "turn__plate", x: at[0] - half, y: at[1] - 18, width: 2 * half, height: 36, rx: 6 }), text);
    }
    over.setAttribute("viewBox", `0 0 ${size.width} ${size.height}`);
    over.replaceChildren(...all);
  }

  /** How high the plate stands: over the way between two places; over the ring of a hole measured alone or, without room there, below it.
   * @param {Point[]} places @param {string[]} rings @param {number} y @param {CanvasSize} size */
  function besideOf(places, rings, y, size) {
    const within = (/** @type {number} */ at) => Math.min(Math.max(at, PLATE_PX), size.height - PLATE_PX);
    if (places.length === 2 || !rings.length) return within(y - PLATE_PX - 2);
    const heights = rings[0].split(" ").map((each) => Number(each.split(",")[1]));
    const [over, below] = [Math.min(...heights) - PLATE_PX - 6, Math.max(...heights) + PLATE_PX + 6];
    return over >= PLATE_PX || below > size.height - PLATE_PX ? within(over) : below;
  }

  /** @param {ModelRound} round @param {Camera} camera @param {CanvasSize} size */
  function ring(round, camera, size) {
    /** @type {Point} */
    const far = Math.abs(round.axis[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0];
    const side = cross(round.axis, far);
    const one = along([0, 0, 0], side, round.size_mm / 2 / lengthOf(side));
    const other = cross(round.axis, one);
    return Array.from({ length: RING }, (_none, i) => {
      const turn = (2 * Math.PI * i) / RING;
      const [x, y] = seenAt(camera, size, along(along(round.at, one, Math.cos(turn)), other, Math.sin(turn)));
      return `${x.toFixed(1)},${y.toFixed(1)}`;
    }).join(" ");
  }

  spares.screen = { ...spares.screen, showMarks };
})();
