// Ways in by place, for the vehicle that is carried: its fleet comes first, a drawing that is wider than its frame says that it
// slides, and a place of another fleet is told as such.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made, named, vehicle } = spares.screen;

  /** A fleet's heading and all that stands under it.
   * @param {Element} numbers @returns {Element[]} */
  function sectionOf(numbers) {
    const section = [numbers];
    while (section[0].previousElementSibling && section[0].tagName !== "H2") section.unshift(section[0].previousElementSibling);
    for (let next = numbers.nextElementSibling; next && next.tagName !== "H2"; next = next.nextElementSibling) section.push(next);
    return section;
  }

  /** Once, when the page is opened: nothing moves under a finger. */
  function ownFleetFirst() {
    const all = /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-fleet-numbers]"));
    const own = [...all].filter((each) => vehicle()?.fleets.includes(each.dataset.fleetNumbers || ""));
    const first = all.length ? sectionOf(all[0])[0] : null;
    const moved = own.filter((each) => each !== all[0]).flatMap(sectionOf);
    if (first && moved.length && !own.includes(all[0])) first.before(...moved);
  }

  /** @param {Element} frame */
  function tellSliding(frame) {
    const line = made("p", "outline__slides", {}, globalThis.sparesRules.words.vehicle.slides);
    const look = () => { line.hidden = frame.scrollWidth <= frame.clientWidth + 1; };
    frame.before(line);
    new ResizeObserver(look).observe(frame);
    look();
  }

  /** @param {HTMLElement} line on the page of a place */
  function tellElsewhere(line) {
    const carried = vehicle();
    const { fleet, place } = line.dataset;
    line.hidden = !carried || carried.fleets.includes(fleet || "");
    line.textContent = line.hidden || !carried ? "" : filled(globalThis.sparesRules.words.vehicle.elsewhere, { place: place || "", fleet: fleet || "", vehicle: named(carried) }, globalThis.sparesRules.words);
  }

  ownFleetFirst();
  for (const frame of document.querySelectorAll(".outline__frame")) tellSliding(frame);
  for (const line of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(".elsewhere"))) {
    document.addEventListener("spares:vehicle", () => tellElsewhere(line));
    tellElsewhere(line);
  }
})();
