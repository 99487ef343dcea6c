// How many px of this screen are one millimetre? A browser's own mm are those of no screen, so somebody lays a card or a ruler
// against it once. Knows no page: what a screen says of itself is given.
(function () {
  "use strict";

  /** ID-1 of ISO/IEC 7810: bank, identity and driving cards. In mm. */
  const CARD = { width: 85.6, height: 53.98, corner: 3.18 };
  const MM_PER_INCH = 25.4;
  /** Real pixels an inch that a screen may have: large signs in a hall begin at some 30, the finest telephones end below 900
   * (common practice, no source). */
  const DENSEST = 1000;
  const COARSEST = 25;
  /** A shorter length on the screen cannot be set to a hundredth of itself by hand. */
  const LEAST_PX = 60;
  /** What a page that was zoomed by fingers is off by, at the least. */
  const ZOOM_SLACK = 0.001;
  /** A4, ISO 216, less what printers leave white around it and what stands above and below the drawing. */
  const PAPER = { width: 180, height: 232, overlap: 10 };

  /** A screen turned on its side is the same screen.
   * @param {TrueScreen} one @param {TrueScreen} other */
  function isSame(one, other) {
    const sides = (/** @type {TrueScreen} */ each) => [each.width, each.height].sort((a, b) => a - b).join("x");
    return sides(one) === sides(other) && Math.abs(one.ratio - other.ratio) < 1e-6;
  }

  /** @param {number} pxPerMm @param {number} ratio of real pixels to px @returns {boolean} */
  function isPlausible(pxPerMm, ratio) {
    const density = pxPerMm * ratio * MM_PER_INCH;
    return Number.isFinite(density) && density >= COARSEST && density <= DENSEST;
  }

  /** What is kept of a screen on which a length of so many px was found to be so many mm; null for what no screen can be.
   * @param {number} px @param {number} mm @param {TrueScreen} screen @returns {Calibration | null} */
  function calibration(px, mm, screen) {
    if (!(px >= LEAST_PX) || !(mm > 0) || !isPlausible(px / mm, screen.ratio)) return null;
    return { px_per_mm: px / mm, width: screen.width, height: screen.height, ratio: screen.ratio };
  }

  /** Something that was kept, if it is a calibration.
   * @param {unknown} kept @returns {Calibration | null} */
  function calibrationIn(kept) {
    const found = /** @type {Calibration} */ (kept);
    if (!found || typeof found !== "object") return null;
    const numbers = [found.px_per_mm, found.width, found.height, found.ratio];
    if (!numbers.every((each) => Number.isFinite(each) && each > 0)) return null;
    const isFine = found.px_per_mm * CARD.width >= LEAST_PX;
    return isFine && isPlausible(found.px_per_mm, found.ratio) ? found : null;
  }

  /** The px of a millimetre on this screen as it stands, or why there is no telling.
   * @param {Calibration | null} kept @param {TrueScreen} screen @param {number} zoom by fingers; 1 for none
   * @returns {number | "none" | "other" | "zoomed"} */
  function pxPerMm(kept, screen, zoom) {
    if (!kept) return "none";
    if (!isSame(kept, screen)) return "other";
    return Math.abs(zoom - 1) > ZOOM_SLACK ? "zoomed" : kept.px_per_mm;
  }

  /** The longest round length that finds room in so many mm: what a ruler on the screen or on paper shows.
   * @param {number} room @returns {number} */
  function rulerFor(room) {
    return [150, 100, 50, 20, 10].find((each) => each <= room) || 5;
  }

  /** Where the sheets of A4 lie that show so many mm in true size, row by row: left upper corner and size in mm. What needs
   * more than one sheet laps over by `PAPER.overlap`; a sheet on its side is taken where one then is enough.
   * @param {number} width @param {number} height @returns {{ isAcross: boolean, sheets: { x: number, y: number, width: number, height: number }[] }} */
  function sheetsFor(width, height) {
    const isOne = (/** @type {number} */ w, /** @type {number} */ h) => w <= PAPER.width && h <= PAPER.height;
    const isAcross = !isOne(width, height) && isOne(height, width);
    const page = isAcross ? { width: PAPER.height, height: PAPER.width } : { width: PAPER.width, height: PAPER.height };
    const columns = starts(width, page.width);
    const sheets = starts(height, page.height).flatMap((y) => columns.map((x) => ({ x, y, width: Math.min(page.width, width - x), height: Math.min(page.height, height - y) })));
    return { isAcross, sheets };
  }

  /** @param {number} length @param {number} room @returns {number[]} */
  function starts(length, room) {
    const step = room - PAPER.overlap;
    const more = Math.max(0, Math.ceil((length - room) / step - 1e-9));
    return Array.from({ length: more + 1 }, (_, at) => at * step);
  }

  spares.trueSize = { CARD, LEAST_PX, calibration, calibrationIn, pxPerMm, rulerFor, sheetsFor };
})();
