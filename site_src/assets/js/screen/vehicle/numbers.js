// On the page of the vehicles: a button for each vehicle of a fleet.
(function () {
  "use strict";

  const { choose, made, vehicle } = spares.screen;
  /** So many stand open; more are folded. */
  const MOST_OPEN = 40;

  /** @param {HTMLElement} place @param {RulesFleet} fleet */
  function offer(place, fleet) {
    const words = globalThis.sparesRules.words;
    const buttons = spares.vehicles.vehiclesIn(fleet.vehicles).map((number) => {
      const button = made("button", "button numbers__one", { type: "button" }, number);
      button.addEventListener("click", () => choose(vehicle()?.number === number ? "" : number));
      return button;
    });
    const row = made("div", "numbers__row", { role: "group", "aria-label": words.vehicle.pick }, ...buttons);
    const summary = made("summary", "", {}, words.vehicle.pick);
    place.replaceChildren(...(buttons.length > MOST_OPEN ? [made("details", "earlier", {}, summary, row)] : [made("p", "numbers__says", {}, words.vehicle.pick), row]));
    const show = () => { for (const each of buttons) each.setAttribute("aria-pressed", String(each.textContent === vehicle()?.number ?? "")); };
    document.addEventListener("spares:vehicle", show);
    show();
  }

  for (const place of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-fleet-numbers]"))) {
    const fleet = ((globalThis.sparesRules && globalThis.sparesRules.fleets) || []).find((each) => each.id === place.dataset.fleetNumbers);
    if (fleet) offer(place, fleet);
  }
})();
