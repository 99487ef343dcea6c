// On a part's page: the verdict for the vehicle that is carried stands alone, those for others are folded. The verdicts are
// the same elements, judged by the same table; here they are only moved. Where none speaks of the vehicle, or of one of the
// fleets that have its number: Do not fit.
(function () {
  "use strict";

  const { counted, filled, speaksOf, unspoken } = spares.judge;
  const { made, meant, named } = spares.screen;
  const boxes = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".verdicts > .verdict")]);
  const begin = document.createComment("");

  /** Whether a verdict speaks of the vehicle; one that names no fleet speaks of all.
   * @param {HTMLElement} box @param {Carried} carried */
  function isOwn(box, carried) {
    const { fleet, vehicles } = box.dataset;
    return fleet === undefined || speaksOf(fleet, (vehicles || "").split(" ").filter(Boolean), carried);
  }

  /** Whether a verdict is of all vehicles, as that of a record with mistakes is.
   * @param {HTMLElement[]} some */
  const isOfAll = (some) => some.some((box) => box.dataset.fleet === undefined);

  /** Those of some verdicts that speak of a vehicle, and the vehicle once for each of its fleets that none speaks of; all
   * without one.
   * @param {HTMLElement[]} some @param {Carried | null} whom @returns {{ own: HTMLElement[], none: Carried[] }} */
  function spokenFor(some, whom) {
    if (!whom) return { own: some, none: [] };
    const own = some.filter((box) => isOwn(box, whom));
    return { own, none: isOfAll(own) ? [] : unspoken(whom, own.map((box) => box.dataset.fleet || "")) };
  }

  /** @param {Carried} carried */
  function strangeBox(carried) {
    const words = globalThis.sparesRules.words;
    const facts = { vehicle: named(carried) };
    return made("div", "verdict verdict--no verdict--strange", {},
      made("p", "verdict__who", {}, made("b", "", {}, filled(words.vehicle.mine, facts, words))),
      made("p", "verdict__word", {}, words.verdict.no), made("p", "verdict__reason", {}, filled(carried.fleets.length ? words.vehicle.not_made : words.vehicle.unknown, facts, words)));
  }

  function unfold() {
    begin.before(...boxes);
    for (const made_ of document.querySelectorAll(".verdicts > .mine, .verdicts > .others")) made_.remove();
  }

  /** @param {Carried} carried */
  function fold(carried) {
    const words = globalThis.sparesRules.words;
    const { own, none } = spokenFor(boxes, carried);
    const others = boxes.filter((box) => !own.includes(box));
    const name = filled(words.vehicle.mine, { vehicle: named(carried) }, words);
    const first = own.length ? [made("p", "mine__vehicle", {}, name)] : [];
    begin.before(made("div", "mine", { role: "group", "aria-label": name }, ...first, ...own, ...none.map(strangeBox)));
    if (!others.length) return;
    begin.before(made("details", "others earlier", {}, made("summary", "", {}, counted(words.vehicle.others, others.length, {}, words)), ...others));
  }

  function show() {
    const carried = meant();
    unfold();
    if (carried) fold(carried);
  }

  /** Those of some verdicts that speak of the vehicle that is carried; all of them where none is.
   * @param {HTMLElement[]} some @returns {HTMLElement[]} */
  function ownOf(some) {
    return document.querySelector(".mine") ? some.filter((box) => box.closest(".mine")) : some;
  }

  spares.screen = { ...spares.screen, ownOf, spokenFor };
  if (!boxes.length) return;
  boxes[boxes.length - 1].after(begin);
  document.addEventListener("spares:vehicle", show);
  show();
})();
