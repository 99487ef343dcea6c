// The same on paper, where a mm of CSS is a mm: as many sheets of A4 as it needs, each with a ruler to check the printer by.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made } = spares.screen;
  const inMm = (/** @type {number} */ mm) => `${mm}mm`;
  const RULER_MM = 150;

  /** Crosses where sheets lap over each other, in mm of the side.
   * @param {{ x: number, y: number }[]} sheets @returns {SVGElement[]} */
  function crosses(sheets) {
    if (sheets.length < 2) return [];
    const { drawn } = spares.screen.silhouette;
    return sheets.map(({ x, y }) => drawn("path", { class: "silhouette__cross", d: `M${x + 1} ${y + 5}h8M${x + 5} ${y + 1}v8` }));
  }

  /** @param {Silhouettes} part @param {string} name of the side @returns {HTMLElement} */
  function paperOf(part, name) {
    const { words } = globalThis.sparesRules;
    const said = words.working.true_size;
    const { sideDrawing, whole, ruler } = spares.screen.silhouette;
    const side = part.sides[name];
    const all = whole(side);
    const { isAcross, sheets } = spares.trueSize.sheetsFor(all.width, all.height);
    const marks = crosses(sheets.map(({ x, y }) => ({ x: x + all.x, y: y + all.y })));
    const pages = sheets.map((sheet, at) => {
      const window = { ...sheet, x: sheet.x + all.x, y: sheet.y + all.y };
      const which = sheets.length > 1 ? ` ${filled(said.sheet, { at: at + 1, of: sheets.length }, words)}` : "";
      const label = `${part.number} ${said.sides[name]}`;
      return made("section", "true-paper__sheet", {},
        made("p", "true-paper__head", {}, made("b", "", {}, `${part.number} ${part.name}`), ` ${said.seen_from} ${said.sides[name]}, 1:1.${which}`),
        made("p", "true-paper__check", {}, filled(said.paper_check, { mm: RULER_MM }, words)),
        ruler(RULER_MM, inMm, `${RULER_MM} mm`),
        sideDrawing(side, window, inMm, { label, isTurned: isAcross, marks }));
    });
    return made("div", "true-paper", {}, ...pages);
  }

  /** @param {Silhouettes} part @param {string} name of the side */
  function printTrueSize(part, name) {
    const paper = paperOf(part, name);
    const page = document.documentElement;
    document.body.append(paper);
    page.setAttribute("data-print", "true-size");
    const end = () => {
      paper.remove();
      page.removeAttribute("data-print");
      window.removeEventListener("afterprint", end);
    };
    window.addEventListener("afterprint", end);
    window.print();
  }

  spares.screen = { ...spares.screen, printTrueSize };
})();
