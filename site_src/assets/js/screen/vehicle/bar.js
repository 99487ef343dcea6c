// The vehicle in the header of every page: one tap to choose or change it, one to drop it.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { choose, insteadOf, made, meant, strangeVehicle, vehicle } = spares.screen;
  const SHOWN = 12;

  /** A number that somebody typed, as short as a vehicle's.
   * @param {string} text */
  const short = (text) => ([...text].length > SHOWN ? `${[...text].slice(0, SHOWN).join("")}…` : text);

  /** The name of a vehicle; without a fleet, what the stranger was called.
   * @param {Carried} carried */
  const named = (carried) => filled(globalThis.sparesRules.words.vehicle.named, { fleets: carried.fleets.join(", "), vehicle: carried.number || short(strangeVehicle()) }, globalThis.sparesRules.words);

  /** What is told above the page: a stranger, or what an address has put in the place of what was carried; and the way back.
   * @returns {(string | Node)[]} */
  function news() {
    const words = globalThis.sparesRules.words;
    const [carried, strange, before] = [vehicle(), strangeVehicle(), insteadOf()];
    if (strange) return [filled(carried ? words.vehicle.strange_kept : words.vehicle.strange, { vehicle: short(strange), carried: carried ? named(carried) : "" }, words)];
    if (!before || !carried) return [];
    const back = made("button", "button", { type: "button" }, filled(words.vehicle.back, { vehicle: named(before) }, words));
    back.addEventListener("click", () => choose(before.number));
    return [filled(words.vehicle.instead, { vehicle: named(carried), before: named(before) }, words), " ", back];
  }

  /** A list of every vehicle, by fleet; what is chosen in it is chosen there alone.
   * @param {Record<string, string>} attributes */
  function vehicleList(attributes) {
    const { fleets, words } = globalThis.sparesRules;
    const known = new Set();
    const groups = fleets.map((fleet) => made("optgroup", "", { label: fleet.name }, ...spares.vehicles.vehiclesIn(fleet.vehicles)
      .filter((number) => !known.has(number) && known.add(number))
      .map((number) => made("option", "", { value: number }, named(/** @type {Carried} */ (spares.judge.vehicleOf(number, fleets)))))));
    return made("select", "", attributes, made("option", "", { value: "" }, words.vehicle.none), ...groups);
  }

  /** @param {HTMLElement} place */
  function start(place) {
    const { fleets, words } = globalThis.sparesRules;
    if (!fleets.length) return;
    const box = vehicleList({ class: "carried__choice", "aria-label": words.vehicle.name });
    box.addEventListener("change", () => choose(box.value));
    const drop = made("button", "carried__drop", { type: "button" }, made("span", "", { "aria-hidden": "true" }, "✕"));
    const told = made("div", "carried__told", { role: "status" });
    drop.addEventListener("click", () => { choose(""); box.focus({ preventScroll: true }); });
    const show = () => {
      const carried = vehicle();
      box.value = carried?.number ?? "";
      place.classList.toggle("carried--one", carried !== null);
      drop.hidden = carried === null;
      document.documentElement.toggleAttribute("data-vehicle", carried !== null);
      if (carried) drop.setAttribute("aria-label", filled(words.vehicle.drop, { vehicle: named(carried) }, words));
      const asked = meant();
      const line = news();
      told.hidden = line.length === 0;
      told.replaceChildren(...line);
      for (const name of document.querySelectorAll("[data-carried-name]")) name.textContent = asked ? filled(words.vehicle.mine, { vehicle: named(asked) }, words) : "";
    };
    place.replaceChildren(box, drop);
    document.querySelector(".sheet")?.prepend(told);
    document.addEventListener("spares:vehicle", show);
    show();
  }

  spares.screen = { ...spares.screen, named, short, vehicleList };

  for (const place of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-carried]"))) {
    try {
      start(place);
    } catch (reason) {
      console.error("spares: no vehicle can be chosen.", reason);
    }
  }
})();
