// The buttons beside a model, in words and as high as a gloved finger, and the slider of the cut.
(function () {
  "use strict";

  const { made } = spares.screen;
  const AXES = [0, 1, 2];

  /** @param {TurnWindow} win @param {TurnActions} on */
  function turnControls(win, on) {
    const said = win.words;
    const button = (/** @type {string} */ text, /** @type {() => void} */ pressed, /** @type {Record<string, string>} */ more = {}) => {
      const one = made("button", "button turn__button", { type: "button", ...more }, text);
      one.addEventListener("click", pressed);
      return one;
    };
    const measure = button(said.measure, () => {
      const isOn = measure.getAttribute("aria-pressed") !== "true";
      measure.setAttribute("aria-pressed", String(isOn));
      on.measure(isOn);
    }, { "aria-pressed": "false" });
    const again = button(said.again, on.again);
    again.disabled = true;
    const slider = made("input", "turn__slider", { type: "range", min: "0", max: "100", value: "50", "aria-label": said.cut_place });
    /** @type {number | null} */
    let axis = null;
    const cuts = AXES.map((each) => button(said[`cut_${each}`], () => choose(axis === each ? null : each), { "aria-pressed": "false" }));
    const other = button(said.other_side, () => { if (axis !== null) on.cut(axis, Number(slider.value) / 100, true); });
    const place = made("div", "turn__place-of-cut", {}, slider, other);
    slider.addEventListener("input", () => { if (axis !== null) on.cut(axis, Number(slider.value) / 100, false); });

    /** @param {number | null} chosen */
    function choose(chosen) {
      axis = chosen;
      slider.value = "50";
      cuts.forEach((each, at) => each.setAttribute("aria-pressed", String(at === chosen)));
      place.hidden = chosen === null;
      place.scrollIntoView({ block: "nearest" }); // where the controls scroll
      on.cut(chosen, null, false);
    }

    place.hidden = true;
    win.controls.replaceChildren(
      made("div", "turn__row", {}, measure, again),
      made("div", "turn__row", {}, button(said.home, on.home), button("+", () => on.grow(1.4), { "aria-label": said.larger }), button("−", () => on.grow(1 / 1.4), { "aria-label": said.smaller })),
      made("div", "turn__row", { role: "group", "aria-label": said.cut }, made("span", "turn__name", { "aria-hidden": "true" }, said.cut), ...cuts),
      place,
    );
    return { again };
  }

  spares.screen = { ...spares.screen, turnControls };
})();
