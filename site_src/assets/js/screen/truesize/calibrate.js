// Setting the scale: a card drawn on the screen is made as large as a real one that is held against it, or a line as long as a
// ruler says.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made } = spares.screen;
  const { CARD, LEAST_PX, calibration } = spares.trueSize;
  const STEPS = [-10, -1, -0.25, 0.25, 1, 10];
  /** What most screens have is near to this (common practice, no source): where the setting begins. */
  const FIRST_PX_PER_MM = 5;
  /** On a telephone, or where a scale that was set says so, the card stands upright: it is longer than the screen is wide. */
  const NARROW_PX = 440;

  /** What is laid against the screen, and how long it is in mm.
   * @typedef {{ name: "card" | "ruler", mm: number }} Against */

  /** @param {number} px @param {Against} against @returns {SVGElement} */
  function shown(px, { name, mm }) {
    const { drawn } = spares.screen.silhouette;
    const perMm = px / mm;
    const high = name === "ruler" ? 64 : perMm * (mm === CARD.width ? CARD.height : CARD.width);
    const shape = name === "card"
      ? drawn("rect", { class: "scale__card", x: 0, y: 0, width: px, height: high, rx: perMm * CARD.corner })
      : drawn("path", { class: "scale__line", d: `M0 0V${high}M${px} 0V${high}M0 ${high / 2}H${px}` });
    return drawn("svg", { class: "scale__shape", width: px, height: high, viewBox: `0 0 ${px} ${high}`, role: "img", "aria-label": `${mm} mm` }, shape);
  }

  /** What is compared scrolls in `place`; what is done stays in sight below it, in `foot`, before what stands there.
   * @param {HTMLElement} place @param {HTMLElement} foot @param {number} before px of a mm, where a scale was set @param {() => void} done it is set and kept */
  function offerScale(place, foot, before, done) {
    const said = globalThis.sparesRules.words.working.true_size;
    const stage = made("div", "scale__stage", {});
    const told = made("p", "scale__told", { role: "status" });
    const how = made("p", "scale__how", {});
    /** @type {Against} */
    let against = { name: "card", mm: CARD.width };
    let perMm = before || FIRST_PX_PER_MM;

    /** @param {number} px */
    function show(px) {
      const most = Math.max(LEAST_PX, stage.clientWidth - 2);
      perMm = Math.min(Math.max(px, LEAST_PX), most) / against.mm;
      slider.max = String(most);
      slider.value = String(perMm * against.mm);
      stage.replaceChildren(shown(perMm * against.mm, against));
      told.textContent = px > most ? said.too_narrow : "";
    }

    /** @param {Against["name"]} name */
    function lay(name) {
      const room = (stage.clientWidth - 2) / perMm;
      against = name === "card" ? { name, mm: stage.clientWidth < Math.max(NARROW_PX, CARD.width * perMm + 2) ? CARD.height : CARD.width } : { name, mm: spares.trueSize.rulerFor(room) };
      how.textContent = name === "card" ? said.card : filled(said.ruler, { mm: against.mm }, globalThis.sparesRules.words);
      for (const each of choices) each.setAttribute("aria-pressed", String(each.dataset.against === name));
      show(perMm * against.mm);
    }

    const choices = /** @type {const} */ (["card", "ruler"]).map((name) => {
      const button = made("button", "button", { type: "button", "data-against": name }, said[`with_${name}`]);
      button.addEventListener("click", () => lay(name));
      return button;
    });
    const slider = made("input", "scale__slider", { type: "range", min: String(LEAST_PX), step: "0.25", "aria-label": said.slider });
    slider.addEventListener("input", () => show(Number(slider.value)));
    const steps = STEPS.map((step) => {
      const button = made("button", "button scale__step", { type: "button", "aria-label": filled(step < 0 ? said.smaller : said.larger, { px: Math.abs(step) }, globalThis.sparesRules.words) }, `${step < 0 ? "−" : "+"}${String(Math.abs(step)).replace(".", globalThis.sparesRules.words.finder.decimal)}`);
      button.addEventListener("click", () => show(perMm * against.mm + step));
      return button;
    });
    const set = made("button", "button button--main scale__set", { type: "button" }, said.set);
    set.addEventListener("click", () => {
      const found = spares.screen.zoom() === 1 ? calibration(perMm * against.mm, against.mm, spares.screen.ownScreen()) : null;
      if (!found) { told.textContent = spares.screen.zoom() === 1 ? said.not_possible : said.zoomed; return; }
      spares.screen.keepScale(found);
      done();
    });
    place.replaceChildren(made("div", "scale", {}, made("div", "scale__choices", {}, ...choices), how, stage));
    foot.prepend(made("div", "scale__steps", {}, ...steps), slider, told, set);
    lay("card");
  }

  spares.screen = { ...spares.screen, offerScale };
})();
