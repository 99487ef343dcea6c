// How old is this copy of the catalogue? Fills every `.copy-age` by the tablet's own clock.
(function () {
  "use strict";

  spares.screen.onEachDay((day) => {
    try {
      const { state, line } = spares.judge.ageOf(globalThis.sparesRules, day, spares.screen.copyState());
      for (const box of document.querySelectorAll(".copy-age")) {
        box.textContent = line;
        box.setAttribute("data-state", state);
      }
    } catch (reason) {
      console.error("spares: the age of this copy cannot be told.", reason);
    }
  })();
})();
