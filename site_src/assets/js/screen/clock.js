// When must a page look again? On another day by the tablet's clock, when more is known of its copy, and for another vehicle or piece.
(function () {
  "use strict";

  const LOOK_AT_CLOCK_EVERY_MS = 20 * 1000;

  /** Calls `look` with the day whenever it may see something else.
   * @param {(day: string) => void} look
   * @returns {() => void} look now, where it has not looked on this day */
  function onEachDay(look) {
    let lookedOn = "";
    const now = () => {
      const day = spares.judge.localDay(new Date());
      if (day === lookedOn) return;
      lookedOn = day;
      look(day);
    };
    const anew = () => {
      if (spares.screen.copyState() === "loading") return;
      lookedOn = "";
      now();
    };
    document.addEventListener("spares:copy", anew);
    document.addEventListener("spares:vehicle", anew);
    document.addEventListener("spares:piece", anew);
    setInterval(now, LOOK_AT_CLOCK_EVERY_MS);
    document.addEventListener("visibilitychange", now);
    window.addEventListener("pageshow", now);
    window.addEventListener("focus", now);
    return now;
  }

  spares.screen = { ...spares.screen, onEachDay };
})();
