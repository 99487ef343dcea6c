// On a part's page: the verdict for the vehicle that is carried stands alone, those for others are folded; of a piece whose
// batch was said, the one for its revision, those for other labels are folded. The verdicts are the same elements, judged by
// the same table; here they are only moved. Where none speaks of the vehicle, or of one of the fleets that have its number:
// Do not fit.
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

  /** Those of some verdicts that speak of pieces of this revision; all of them where none does.
   * @param {HTMLElement[]} some @param {string} revision */
  function ofRevision(some, revision) {
    const found = some.filter((box) => (box.dataset.label ?? globalThis.sparesPart.revision) === revision);
    return found.length ? found : some;
  }

  /** @param {Carried} carried @param {HTMLElement[]} own @param {Carried[]} none */
  function groupOf(carried, own, none) {
    const words = globalThis.sparesRules.words;
    const name = filled(words.vehicle.mine, { vehicle: named(carried) }, words);
    const first = own.length ? [made("p", "mine__vehicle", {}, name)] : [];
    return made("div", "mine", { role: "group", "aria-label": name }, ...first, ...own, ...none.map(strangeBox));
  }

  /** @param {{ one: string, other: string }} says @param {HTMLElement[]} some */
  function folded(says, some) {
    return some.length ? [made("details", "others earlier", {}, made("summary", "", {}, counted(says, some.length, {}, globalThis.sparesRules.words)), ...some)] : [];
  }

  function show() {
    const [carried, revision] = [meant(), spares.screen.pieceRevision()];
    unfold();
    if (!carried && revision === null) return;
    const words = globalThis.sparesRules.words;
    const { own, none } = spokenFor(boxes, carried);
    const first = revision === null ? own : ofRevision(own, revision);
    begin.before(
      ...(carried ? [groupOf(carried, first, none)] : first),
      ...folded(words.working.piece.others, own.filter((box) => !first.includes(box))),
      ...folded(words.vehicle.others, boxes.filter((box) => !own.includes(box))));
  }

  /** Those of some verdicts that speak of the vehicle that is carried; all of them where none is.
   * @param {HTMLElement[]} some @returns {HTMLElement[]} */
  const ownOf = (some) => spokenFor(some, meant()).own;

  spares.screen = { ...spares.screen, ownOf, spokenFor };
  if (!boxes.length) return;
  boxes[boxes.length - 1].after(begin);
  for (const news of ["spares:vehicle", "spares:piece"]) document.addEventListener(news, show);
  show();
})();
