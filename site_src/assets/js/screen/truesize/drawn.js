// The silhouette of a side, and a ruler, as SVG: in px of the screen or in mm of paper.
(function () {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";
  /** Room around the part, in mm. */
  const EDGE = 3;

  /** @param {string} tag @param {Record<string, string | number>} attributes @param {...Node} content @returns {SVGElement} */
  function drawn(tag, attributes, ...content) {
    const element = document.createElementNS(SVG, tag);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
    element.append(...content);
    return element;
  }

  /** Part of a side's drawing, in mm of the side; `length` says how long so many mm are drawn.
   * @param {SilhouetteSide} side @param {{ x: number, y: number, width: number, height: number }} window
   * @param {(mm: number) => string} length @param {{ label: string, isTurned?: boolean, marks?: SVGElement[] }} how @returns {SVGElement} */
  function sideDrawing(side, window, length, { label, isTurned = false, marks = [] }) {
    const [width, height] = isTurned ? [window.height, window.width] : [window.width, window.height];
    const turned = isTurned ? `translate(${window.height + window.y} ${-window.x}) rotate(90)` : `translate(${-window.x} ${-window.y})`;
    const lines = drawn("g", { transform: turned },
      drawn("path", { class: "silhouette__outline", d: side.outline }),
      drawn("path", { class: "silhouette__lines", d: side.lines }), ...marks);
    return drawn("svg", { class: "silhouette", width: length(width), height: length(height), viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": label }, lines);
  }

  /** The whole of a side with room around it.
   * @param {SilhouetteSide} side */
  function whole(side) {
    return { x: -EDGE, y: -EDGE, width: side.width + 2 * EDGE, height: side.height + 2 * EDGE };
  }

  /** A ruler of so many mm, its ends exactly so far apart.
   * @param {number} mm @param {(mm: number) => string} length @param {string} label @returns {SVGElement} */
  function ruler(mm, length, label) {
    const ticks = Array.from({ length: mm + 1 }, (_, at) => `M${at} 0V${at % 10 === 0 ? 6 : at % 5 === 0 ? 4.5 : 3}`).join("");
    const figures = Array.from({ length: mm / 10 + 1 }, (_, at) => {
      const text = drawn("text", { x: at * 10, y: 9.6, class: "ruler__figure", "text-anchor": "middle" });
      text.textContent = String(at * 10);
      return text;
    });
    return drawn("svg", { class: "ruler", width: length(mm + 6), height: length(11), viewBox: `-3 -0.5 ${mm + 6} 11`, role: "img", "aria-label": label },
      drawn("path", { class: "ruler__ticks", d: `M0 0H${mm}${ticks}` }), ...figures);
  }

  spares.screen = { ...spares.screen, silhouette: { drawn, sideDrawing, whole, ruler } };
})();
