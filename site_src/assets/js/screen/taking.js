// May a part be taken from the shelf or ordered today? Reads the verdicts that stand on the page, judged or careful.
(function () {
  "use strict";

  const boxes = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".verdict")]);
  const { named, ownOf, vehicle } = spares.screen;

  /** How a verdict stands, whatever piece is in the hand: what is said of that one says nothing of those on the shelf.
   * @param {HTMLElement} box @param {string} which a selector */
  const stands = (box, which) => {
    const any = spares.screen.ofAny(box);
    return any ? which.includes(`.verdict--${any.verdict}`) : box.matches(which);
  };

  /** Whether every verdict on a part with this label is one of these; "" is the part's own revision. With a vehicle, those
   * that speak of it alone: fewer verdicts never say more kindly that all of them are so.
   * @param {string} label @param {string} which a selector @param {HTMLElement[]} [among] */
  const areAll = (label, which, among = ownOf(boxes)) =>
    among.filter((box) => (box.getAttribute("data-label") || "") === label).every((box) => stands(box, which));

  /** @param {string} label */
  const isNeverFit = (label) => areAll(label, ".verdict--no");

  /** Whether no verdict lets it be fitted unasked; what is ticked for the piece in the hand says nothing of those on the shelf.
   * @param {string} label */
  const isAsked = (label) => areAll(label, ".verdict--no, .verdict--ask, .verdict--ticks");

  /** @param {Element} box @param {string} place */
  const said = (box, place) => (box.querySelector(place)?.textContent || "").replace(/\s+/g, " ").trim();

  /** The vehicle that the order is for; null where it is for the shelf. The page's own stays what it is. */
  function orderedFor() {
    const number = document.querySelector("[data-ordering]")?.getAttribute("data-for");
    return number === null || number === undefined ? vehicle() : spares.judge.vehicleOf(number, globalThis.sparesRules.fleets);
  }

  /** How it stands on each ground of a vehicle, as words; of all vehicles without one.
   * @param {Carried | null} whom @returns {{ who: string, word: string, reason: string }[]} */
  function standsFor(whom) {
    const words = globalThis.sparesRules.words;
    const { own, none } = spares.screen.spokenFor(boxes, whom);
    const judged = own.filter((box) => !box.hasAttribute("data-label") && box.hasAttribute("data-judged-on"));
    const told = judged.map((box) => {
      const { word, reason } = spares.screen.ofAny(box) || { word: said(box, ".verdict__word"), reason: said(box, ".verdict__reason") };
      return { who: said(box, ".verdict__who").replace(said(box, ".verdict__piece"), "").trim(), word, reason };
    });
    const strange = none.map(named).map((who) => ({ who, word: String(words.verdict.no), reason: spares.judge.filled(words.vehicle.not_made, { vehicle: who }, words) }));
    return [...told, ...strange];
  }

  /** The order says how the verdicts stood on the day it is copied.
   * @param {string} day ISO date */
  function orderLines(day) {
    const words = globalThis.sparesRules.words;
    const chosen = spares.screen.piece();
    const inHand = chosen === null ? "" : `${spares.judge.filled(words.working.piece[chosen ? "ordered" : "ordered_none"], { batch: chosen }, words)}\n`;
    return standsFor(orderedFor()).map(({ who, word, reason }) => `${spares.judge.filled(words.copy.verdict, { day }, words)}: ${who}: ${word}, ${reason}\n`).join("") + inHand;
  }

  /** @param {Element | null} place @param {boolean} is */
  const tell = (place, is) => place?.toggleAttribute("hidden", !is);

  /** Whether a newly made part is to be fitted nowhere, or not on a vehicle.
   * @param {Carried | null} [whom] else the one that is carried @returns {"" | "nowhere" | "there"} */
  const notOrdered = (whom = spares.screen.meant()) =>
    (areAll("", ".verdict--no", boxes) ? "nowhere" : areAll("", ".verdict--no", spares.screen.spokenFor(boxes, whom).own) ? "there" : "");

  /** What the fold of the order is for: a part that is not to be fitted is ordered for no vehicle that it is not for.
   * @param {"" | "nowhere" | "there"} not */
  function nameOrder(not) {
    const said = globalThis.sparesRules.words.working.order;
    const name = /** @type {HTMLElement | null} */ (document.querySelector(".orders > summary"));
    if (name) name.textContent = not === "nowhere" ? said.test_piece : not === "there" ? said.other_vehicle : name.dataset.says || "";
  }

  /** Beside what is said of the piece in the hand, or ticked for it, the shelf's words say that they are of the others.
   * @param {Element} shelf @param {boolean} isTold whether the shelf has any word */
  function nameShelf(shelf, isTold) {
    const said = globalThis.sparesRules.words.working.piece;
    const isOther = isTold && (spares.screen.piece() !== null || boxes.some((box) => box.matches(".verdict--fit")));
    for (const [place, key] of /** @type {const} */ ([[".shelf__no", "shelf_no"], [".shelf__ask", "shelf_ask"]])) {
      const word = /** @type {HTMLElement | null} */ (shelf.querySelector(place));
      if (!word) continue;
      word.dataset.says ??= word.textContent || "";
      word.textContent = isOther ? said[key] : word.dataset.says;
    }
  }

  /** @param {string} day ISO date */
  function show(day) {
    for (const shelf of document.querySelectorAll("[data-shelf]")) {
      const label = shelf.getAttribute("data-shelf") || "";
      const no = isNeverFit(label);
      shelf.classList.toggle("shelf--no", no);
      const asks = !no && isAsked(label);
      tell(shelf.querySelector(".shelf__no"), no);
      tell(shelf.querySelector(".shelf__ask"), asks);
      nameShelf(shelf, asks || no);
    }
    const not = notOrdered();
    tell(document.querySelector(".order-no"), not !== "");
    tell(document.querySelector(".order-no__all"), not === "nowhere");
    tell(document.querySelector(".order-no__own"), not !== "nowhere");
    nameOrder(not);
    const lines = orderLines(day);
    for (const place of lines ? document.querySelectorAll(".order__verdicts") : []) place.textContent = lines;
  }

  spares.screen = { ...spares.screen, notOrdered, standsFor };
  if (!boxes.length) return;
  show(spares.judge.localDay(new Date()));
  for (const news of ["spares:vehicle", "spares:piece", "spares:ordering"]) document.addEventListener(news, () => show(spares.judge.localDay(new Date())));
  document.addEventListener("spares:judged", (event) => show(/** @type {CustomEvent} */ (event).detail));
})();
