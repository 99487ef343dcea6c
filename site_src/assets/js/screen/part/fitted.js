// The way to "I have fitted it", where the depot keeps batches; the batch of the piece in the hand goes along.
(function () {
  "use strict";

  const way = /** @type {HTMLElement | null} */ (document.querySelector("[data-fitted]"));
  const link = way?.querySelector("a");

  function show() {
    if (!link) return;
    const chosen = spares.screen.piece();
    const to = new URL(link.href);
    const asked = new URLSearchParams(to.hash.slice(1));
    if (chosen) asked.set("batch", chosen);
    else asked.delete("batch");
    to.hash = asked.toString();
    link.href = to.href;
  }

  if (!way || !globalThis.sparesPart || !globalThis.sparesRules?.keeps_batches) return;
  way.hidden = false;
  document.addEventListener("spares:piece", show);
  show();
})();
