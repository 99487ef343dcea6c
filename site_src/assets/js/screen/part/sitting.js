// What of this part sits on the vehicle that is carried and must not sit there, or of which nobody can say so: at the top of the
// page, spot by spot, with what to do. As the records had it when this copy was made.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made, named, vehicle } = spares.screen;
  const STOPPED = ["called back", "blocked", "rejected"];
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-sitting]"));
  const part = globalThis.sparesPart;

  /** @param {SittingTold} told */
  function line([, , at, position, count, batch, why, recall]) {
    const { words } = globalThis.sparesRules;
    const said = words.working.not_good;
    return made("li", "", {}, made("bdi", "", {}, filled(said.line, { place: at, position, count: String(count), batch, why: said.why[why], recall }, words)));
  }

  /** @param {Carried} carried @param {SittingTold[]} some @param {boolean} isStopped @returns {Node[]} */
  function group(carried, some, isStopped) {
    if (!some.length) return [];
    const { words } = globalThis.sparesRules;
    const said = words.working.not_good;
    const head = filled(isStopped ? said.stopped : said.asked, { vehicle: named(carried) }, words);
    return [made("div", `notice${isStopped ? " notice--no" : ""}`, {}, made("p", "", {}, made("b", "", {}, head)), made("ul", "", {}, ...some.map(line)),
      made("p", "", {}, isStopped ? said.do_stopped : said.do_asked), made("p", "sitting__ways", {}, ...ways(carried, some[0], isStopped)))];
  }

  /** @param {Carried} carried @param {SittingTold} told @param {boolean} isStopped @returns {Node[]} */
  function ways(carried, told, isStopped) {
    const { words } = globalThis.sparesRules;
    const said = words.working.not_good;
    const form = new URL("fitted.html", spares.screen.base);
    form.hash = new URLSearchParams({ part: part.number, vehicle: carried.number }).toString();
    const whole = told[8] ? [made("a", "button", { href: new URL(told[8], spares.screen.base).href }, filled(said.whole, { vehicle: named({ ...carried, fleets: [told[0]] }) }, words))] : [];
    return [...(isStopped ? [made("a", "button", { href: form.href }, said.write_down)] : []), ...whole];
  }

  function show() {
    if (!place) return;
    const carried = vehicle();
    const here = carried ? (part.sitting || []).filter(([fleet, number]) => number === carried.number && carried.fleets.includes(fleet)) : [];
    const isStopped = (/** @type {SittingTold} */ told) => STOPPED.includes(told[6]);
    place.replaceChildren(...(carried ? [...group(carried, here.filter(isStopped), true), ...group(carried, here.filter((told) => !isStopped(told)), false)] : []));
    place.hidden = here.length === 0;
  }

  if (!place || !part || !globalThis.sparesRules) return;
  document.addEventListener("spares:vehicle", show);
  show();
})();
