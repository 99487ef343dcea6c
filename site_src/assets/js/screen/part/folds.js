// A section that is folded opens when its address leads to it, and for whoever prints everything.
(function () {
  "use strict";

  function openAsked() {
    const name = decodeURIComponent(location.hash.slice(1));
    const place = name && !name.includes("=") ? document.getElementById(name) : null;
    const fold = /** @type {HTMLDetailsElement | null | undefined} */ (place?.closest("details.folded"));
    if (!fold || fold.open) return;
    fold.open = true;
    place?.scrollIntoView();
  }

  window.addEventListener("hashchange", openAsked);
  document.addEventListener("click", (event) => {
    if (event.target instanceof Element && event.target.closest(".jumps a")) setTimeout(openAsked);
  });
  openAsked();
})();
