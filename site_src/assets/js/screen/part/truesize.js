// The button that opens the part in true size; what it needs is read when somebody asks for it.
(function () {
  "use strict";

  const place = /** @type {HTMLElement | null} */ (document.querySelector(".true-size"));
  const button = place?.querySelector("button");
  if (!place || !button) return;
  const told = place.querySelector("p");
  button.addEventListener("click", async () => {
    const { readBeside } = spares.screen;
    const said = globalThis.sparesRules.words.working.true_size;
    try {
      const part = globalThis.sparesSilhouettes || (await readBeside(`assets/data/silhouettes/${place.dataset.stem}.js`, () => globalThis.sparesSilhouettes));
      if (!Object.keys(part.sides).length) throw new Error("the model has no outline");
      if (!spares.screen.openTrueSize) await readBeside("assets/js/truesize.js", () => spares.screen.openTrueSize);
      if (told) told.textContent = "";
      spares.screen.openTrueSize(part);
    } catch (reason) {
      console.error("spares: the true size cannot be shown.", reason);
      if (told) told.textContent = said.not_here;
    }
  });
  place.hidden = false;
})();
