// May a part be taken from the shelf or ordered today? Reads the verdicts that stand on the page, judged or careful.
(function () {
  "use strict";

  const boxes = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".verdict")]);
  const { named, ownOf, vehicle } = spares.screen;

  /** Whether every verdict on a part with this label is one of these; "" is the part's own revision. With a vehicle, those
   * that speak of it alone: fewer verdicts never say more kindly that all of them are so.
   * @param {string} label @param {string} which a selector @param {HTMLElement[]} [among] */
  const areAll = (label, which, among = ownOf(boxes)) =>
    among.filter((box) => (box.getAttribute("data-label") || "") === label).every((box) => box.matches(which));

  /** @param {string} label */
  const isNeverFit = (label) => areAll(label, ".verdict--no");

  /** Whether no verdict lets it be fitted unasked; what is ticked for the piece in the hand says nothing of those on the shelf.
   * @param {string} label */
  const isAsked = (label) => areAll(label, ".verdict--no, .verdict--ask, .verdict--ticks");

  /** @param {Element} box @param {string} place */
  const said = (box, place) => (box.querySelector(place)?.textContent || "").replace(/\s+/g, " ").trim();

  /** The order says how the verdicts stood on the day it is copied.
   * @param {string} day ISO date */
  function orderLines(day) {
    const isForOne = document.querySelector("[data-ordering]")?.getAttribute("data-for") !== "all";
    const carried = isForOne ? vehicle() : null;
    const own = isForOne ? ownOf(boxes) : boxes;
    const words = globalThis.sparesRules.words;
    if (carried && !own.length) {
      return `${spares.judge.filled(words.copy.verdict, { day }, words)}: ${named(carried)}: ${words.verdict.no}, ${spares.judge.filled(words.vehicle.not_made, { vehicle: named(carried) }, words)}\n`;
    }
    return own
      .filter((box) => !box.hasAttribute("data-label") && box.hasAttribute("data-judged-on"))
      .map((box) => {
        const who = said(box, ".verdict__who");
        const verdict = `${said(box, ".verdict__word")}, ${said(box, ".verdict__reason")}`;
        return `${spares.judge.filled(words.copy.verdict, { day }, words)}: ${who}: ${verdict}\n`;
      })
      .join("");
  }

  /** @param {Element | null} place @param {boolean} is */
  const tell = (place, is) => place?.toggleAttribute("hidden", !is);

  /** Whether a newly made part is to be fitted nowhere, or not on the vehicle that is carried.
   * @returns {"" | "nowhere" | "there"} */
  const notOrdered = () => (areAll("", ".verdict--no", boxes) ? "nowhere" : isNeverFit("") ? "there" : "");

  /** What the fold of the order is for: a part that is not to be fitted is ordered for no vehicle that it is not for.
   * @param {"" | "nowhere" | "there"} not */
  function nameOrder(not) {
    const said = globalThis.sparesRules.words.working.order;
    const name = /** @type {HTMLElement | null} */ (document.querySelector(".orders > summary"));
    if (name) name.textContent = not === "nowhere" ? said.test_piece : not === "there" ? said.other_vehicle : name.dataset.says || "";
  }

  /** @param {string} day ISO date */
  function show(day) {
    for (const shelf of document.querySelectorAll("[data-shelf]")) {
      const label = shelf.getAttribute("data-shelf") || "";
      const no = isNeverFit(label);
      shelf.classList.toggle("shelf--no", no);
      tell(shelf.querySelector(".shelf__no"), no);
      tell(shelf.querySelector(".shelf__ask"), !no && isAsked(label));
    }
    const not = notOrdered();
    tell(document.querySelector(".order-no"), not !== "");
    tell(document.querySelector(".order-no__all"), not === "nowhere");
    tell(document.querySelector(".order-no__own"), not !== "nowhere");
    nameOrder(not);
    const lines = orderLines(day);
    for (const place of lines ? document.querySelectorAll(".order__verdicts") : []) place.textContent = lines;
  }

  spares.screen = { ...spares.screen, notOrdered };
  if (!boxes.length) return;
  show(spares.judge.localDay(new Date()));
  for (const news of ["spares:vehicle", "spares:ordering"]) document.addEventListener(news, () => show(spares.judge.localDay(new Date())));
  document.addEventListener("spares:judged", (event) => show(/** @type {CustomEvent} */ (event).detail));
})();
