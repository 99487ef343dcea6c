// What this screen says of itself, and the scale that was set for it: kept on this tablet for this screen alone.
(function () {
  "use strict";

  const KEY = "spares.scale";

  /** @returns {TrueScreen} */
  function ownScreen() {
    return { width: screen.width, height: screen.height, ratio: window.devicePixelRatio || 1 };
  }

  /** @returns {number} by fingers; 1 for none */
  function zoom() {
    return window.visualViewport ? window.visualViewport.scale : 1;
  }

  /** Set while nothing can be kept: it then lasts as long as the page.
   * @type {Calibration | null} */
  let unkept = null;

  /** @returns {Calibration | null} */
  function read() {
    try {
      return spares.trueSize.calibrationIn(JSON.parse(localStorage.getItem(KEY) || "null")) || unkept;
    } catch {
      return unkept; // forbidden, or not ours
    }
  }

  /** @param {Calibration} set */
  function keepScale(set) {
    unkept = set;
    try {
      localStorage.setItem(KEY, JSON.stringify(set));
    } catch {
      // full or forbidden
    }
  }

  /** The px of a millimetre here and now, or why there is no telling. */
  function ownScale() {
    return spares.trueSize.pxPerMm(read(), ownScreen(), zoom());
  }

  spares.screen = { ...spares.screen, ownScreen, zoom, ownScale, keepScale };
})();
