// Which Why stands open? Kept with this visit of the page, so that who comes back from a file behind a question finds it open.
(function () {
  "use strict";

  const NAME = "spares.why";
  const each = () => /** @type {HTMLDetailsElement[]} */ ([...document.querySelectorAll(".verdict__steps")]);

  function keep() {
    try {
      history.replaceState({ ...history.state, [NAME]: each().map((why) => why.open) }, "");
    } catch {
      // a tablet may forbid it; Why is then closed on the way back
    }
  }

  function openAgain() {
    const open = history.state?.[NAME];
    each().forEach((why, at) => {
      if (Array.isArray(open) && open[at] === true) why.open = true;
    });
  }

  if (!each().length) return;
  openAgain();
  document.addEventListener("toggle", (event) => {
    if (event.target instanceof Element && event.target.matches(".verdict__steps")) keep();
  }, true);
})();
