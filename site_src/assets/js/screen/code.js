// A code to scan, as a drawing.
(function () {
  "use strict";

  const QUIET = 4;

  /** Black on white in every scheme, with the quiet zone of four modules that the standard asks.
   * @param {boolean[][]} rows @param {string} label @param {string} name of the class */
  function codeDrawing(rows, label, name) {
    const side = rows.length + 2 * QUIET;
    const path = rows.flatMap((row, r) => row.flatMap((dark, c) => (dark ? [`M${c + QUIET} ${r + QUIET}h1v1h-1z`] : []))).join("");
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    for (const [key, value] of Object.entries({ viewBox: `0 0 ${side} ${side}`, role: "img", "aria-label": label, "shape-rendering": "crispEdges", class: name })) svg.setAttribute(key, value);
    for (const [d, fill] of [[`M0 0h${side}v${side}h-${side}z`, "#fff"], [path, "#000"]]) {
      const shape = document.createElementNS("http://www.w3.org/2000/svg", "path");
      shape.setAttribute("d", d);
      shape.setAttribute("fill", fill);
      svg.append(shape);
    }
    return svg;
  }

  spares.screen = { ...spares.screen, codeDrawing };
})();
