// The outline of a part in its real size, to lay the old one against: from which side one likes, once the scale is set.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made } = spares.screen;
  const SIDES = ["front", "behind", "above", "below", "left", "right"];

  /** @param {number} mm */
  function inWords(mm) {
    return String(Math.round(mm * 10) / 10).replace(".", globalThis.sparesRules.words.finder.decimal);
  }

  /** @param {Silhouettes} part */
  function openTrueSize(part) {
    const { words } = globalThis.sparesRules;
    const said = words.working.true_size;
    const names = SIDES.filter((each) => each in part.sides);
    let name = names[0];
    const stage = made("div", "truesize__stage", { tabindex: "0" });
    const told = made("p", "truesize__told", { role: "status" });
    const foot = made("div", "truesize__foot", {});
    const sides = names.map((each) => {
      const button = made("button", "button truesize__side", { type: "button" }, said.sides[each]);
      button.addEventListener("click", () => { name = each; show(); });
      return button;
    });
    const close = made("button", "button truesize__close", { type: "button" }, said.close);
    const anew = made("button", "button", { type: "button" }, said.anew);
    const print = made("button", "button", { type: "button" }, said.print);
    const dialog = made("dialog", "truesize md-typeset", { "aria-label": said.heading },
      made("div", "truesize__head", {}, made("b", "truesize__name", {}, `${part.number} ${part.name}`), close),
      made("div", "truesize__sides", { role: "group", "aria-label": said.seen_from }, made("span", "truesize__from", {}, said.seen_from), ...sides), told, stage, foot);

    /** @param {number} before */
    function setScale(before) {
      dialog.classList.add("truesize--setting");
      foot.replaceChildren(print);
      spares.screen.offerScale(stage, foot, before, show);
    }

    /** @param {number} perMm */
    function draw(perMm) {
      const { sideDrawing, whole, ruler } = spares.screen.silhouette;
      const side = part.sides[name];
      const length = (/** @type {number} */ mm) => `${mm * perMm}px`;
      const label = `${part.number} ${said.sides[name]}: ${filled(said.size, { width: inWords(side.width), height: inWords(side.height) }, words)}`;
      dialog.classList.remove("truesize--setting");
      stage.replaceChildren(sideDrawing(side, whole(side), length, { label }));
      const long = spares.trueSize.rulerFor((stage.clientWidth - 20) / perMm - 6);
      foot.replaceChildren(ruler(long, length, `${long} mm`), made("p", "truesize__check", {}, said.check), made("div", "truesize__ways", {}, anew, print));
    }

    function show() {
      const perMm = spares.screen.ownScale();
      for (const [at, button] of sides.entries()) button.setAttribute("aria-pressed", String(names[at] === name));
      told.textContent = typeof perMm === "number" ? said.lay : said[`scale_${perMm}`];
      if (perMm === "zoomed") { stage.replaceChildren(); foot.replaceChildren(print); return; }
      if (typeof perMm === "number") draw(perMm);
      else setScale(0);
    }

    const again = () => { if (!dialog.classList.contains("truesize--setting") || spares.screen.zoom() !== 1) show(); };
    anew.addEventListener("click", () => { const perMm = spares.screen.ownScale(); told.textContent = said.scale_none; setScale(typeof perMm === "number" ? perMm : 0); });
    print.addEventListener("click", () => spares.screen.printTrueSize(part, name));
    close.addEventListener("click", () => dialog.close());
    window.addEventListener("resize", again);
    window.visualViewport?.addEventListener("resize", again);
    dialog.addEventListener("close", () => {
      window.removeEventListener("resize", again);
      window.visualViewport?.removeEventListener("resize", again);
    });
    spares.screen.openWindow(dialog);
    show();
  }

  spares.screen = { ...spares.screen, openTrueSize };
})();
