// One A4 page with what is needed at the vehicle, or everything. One page is what is printed where nobody says otherwise.
//
// The page is put together and measured an instant before it is printed: smaller letters until it fits, and what does not fit
// even then is named, never cut off.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made, vehicle } = spares.screen;
  const place = document.querySelector(".jumps");
  /** What one page takes of A4 between its margins, as in print.css. */
  const HIGH_PX = (266 / 25.4) * 96;
  const LARGEST_PX = 14;
  const SMALLEST_PX = 10;
  const PRINTED = "15px";
  const LARGEST_CODE = 25;
  let isLong = false;
  /** @type {HTMLElement | null} */
  let paper = null;

  /** A copy of what a selector finds, without names that would then be there twice.
   * @param {string} selector */
  function copies(selector) {
    return [...document.querySelectorAll(selector)].map((found) => {
      const copy = /** @type {HTMLElement} */ (found.cloneNode(true));
      for (const each of [copy, ...copy.querySelectorAll("[id]")]) each.removeAttribute("id");
      for (const each of copy.querySelectorAll("button, .verdict__unseen, .verdict__steps, .measure__says")) each.remove();
      for (const each of copy.querySelectorAll("input")) each.replaceWith(made("span", each.type === "checkbox" ? "paper__box" : "paper__blank", {}));
      for (const each of copy.querySelectorAll("img")) each.loading = "eager";
      return copy;
    });
  }

  /** The address of this page; opened from disk it would lead nowhere else, so that number and batch stand for it, as on a label. */
  function code() {
    const words = globalThis.sparesRules.words;
    const said = words.working.paper;
    const number = globalThis.sparesPart ? globalThis.sparesPart.number : "";
    const isFromDisk = location.protocol === "file:";
    const page = new URL(location.href);
    const chosen = spares.screen.piece();
    page.hash = chosen ? new URLSearchParams({ batch: chosen }).toString() : "";
    const carried = vehicle();
    page.search = carried ? new URLSearchParams({ vehicle: carried.number }).toString() : "";
    const label = chosen ? `${number} ${chosen}` : number;
    const drawn = spares.request.qrCode(isFromDisk ? label : page.href, { most: LARGEST_CODE });
    if (!drawn) return [];
    return [made("div", "paper__code", {}, spares.screen.codeDrawing(drawn.rows, filled(said.code_alt, { number }, words), "paper__qr"), made("p", "", {}, ...(isFromDisk ? [said.code_number, ...label.split(" ").flatMap((each) => [" ", made("span", "unbroken", {}, each)])] : [said.code])))];
  }

  /** A section of the fitting notes with its heading.
   * @param {string} selector */
  function section(selector) {
    const found = document.querySelector(`.sheet .md-typeset > ${selector}`);
    if (!found) return [];
    let heading = found.previousElementSibling;
    while (heading && !/^H[23]$/.test(heading.tagName)) heading = heading.previousElementSibling;
    const name = heading?.textContent || "";
    return [made("section", "paper__part", { "data-name": name }, made("h3", "", {}, name), ...copies(`.sheet .md-typeset > ${selector}`))];
  }

  /** What of this part must not sit on any vehicle, with the day of it: paper is carried to whichever one.
   * @returns {Node[]} */
  function sitting() {
    const { words, built_on } = globalThis.sparesRules;
    const said = words.working.not_good;
    const told = globalThis.sparesPart.sitting || [];
    return [true, false].flatMap((isStopped) => {
      /** @type {Map<string, number>} */
      const pieces = new Map();
      for (const [fleet, number, , , n, , why] of told) {
        const name = `${fleet} ${number}`;
        if (["called back", "blocked", "rejected"].includes(why) === isStopped) pieces.set(name, (pieces.get(name) || 0) + Number(n));
      }
      const vehicles = [...pieces].map(([name, n]) => `${name} (${n} ×)`).join(", ");
      const line = filled(isStopped ? said.paper_stopped : said.paper_asked, { day: built_on, vehicles }, words);
      return pieces.size ? [made("p", `paper__sitting${isStopped ? " paper__sitting--no" : ""}`, {}, line)] : [];
    });
  }

  /** How it is fitted; of what must not be fitted, that this is left out.
   * @param {string} cards @returns {Node[]} */
  function howToFit(cards) {
    const shown = [...document.querySelectorAll(cards)];
    const isForbidden = shown.length > 0 && shown.every((card) => card.matches(".verdict--no"));
    if (!isForbidden) return [...section(".tools"), ...section("table.measure"), ...section(".steps"), ...section(".check")];
    return [made("p", "paper__not", {}, globalThis.sparesRules.words.working.paper.not_fitted)];
  }

  function laidOut() {
    const front = copies(".pictures > :first-child, .pictures > :nth-child(2)");
    const isMine = document.querySelector(".verdicts > .mine") !== null;
    const own = isMine ? ".verdicts > .mine" : ".verdicts > .verdict";
    return made("div", "paper md-typeset", {},
      ...copies(".paper-head"),
      ...copies(".sheet .md-typeset > h1"), ...copies(".part-id"), ...copies(".sheet .md-typeset > .notice"), ...sitting(),
      made("div", "paper__first", {}, made("div", "paper__pictures", {}, ...front, ...code()), made("div", "paper__verdicts", {}, ...copies(own), ...copies(".at-hand"))),
      ...section(".cautions"), ...howToFit(isMine ? `${own} .verdict` : own));
  }

  /** Measured with the letters of print.css, then as it was.
   * @param {() => void} measure */
  function asOnPaper(measure) {
    const page = document.documentElement;
    const before = page.style.fontSize;
    page.style.setProperty("font-size", PRINTED, "important");
    measure();
    page.style.fontSize = before;
  }

  /** Smaller letters until it fits; then sections from the end, which are named.
   * @param {HTMLElement} sheet */
  function fit(sheet) {
    const fits = () => sheet.scrollHeight <= HIGH_PX;
    for (let px = LARGEST_PX; px >= SMALLEST_PX; px -= 0.5) {
      sheet.style.setProperty("--paper", `${px}px`);
      if (fits()) return;
    }
    const words = globalThis.sparesRules.words;
    /** @type {string[]} */
    const out = [];
    const note = made("p", "paper__more", {});
    sheet.append(note);
    const parts = /** @type {HTMLElement[]} */ ([...sheet.querySelectorAll(".paper__part")]);
    while (!fits() && parts.length) {
      const last = parts.pop();
      out.unshift(last?.dataset.name || "");
      last?.remove();
      note.textContent = filled(words.working.paper.more, { parts: out }, words);
    }
  }

  function begin() {
    if (document.documentElement.getAttribute("data-print") === "true-size") return; // has made its own sheets
    end();
    document.documentElement.setAttribute("data-print", isLong ? "long" : "short");
    if (isLong) {
      for (const fold of /** @type {NodeListOf<HTMLDetailsElement>} */ (document.querySelectorAll("details.folded:not([open])"))) {
        fold.open = true;
        fold.setAttribute("data-opened", "");
      }
      return;
    }
    try {
      paper = laidOut();
      document.body.append(paper);
      const sheet = paper;
      asOnPaper(() => fit(sheet));
    } catch (reason) {
      console.error("spares: one page cannot be made; everything is printed.", reason);
      paper?.remove();
      document.documentElement.setAttribute("data-print", "long");
    }
  }

  function end() {
    if (document.documentElement.getAttribute("data-print") === "true-size") return;
    paper?.remove();
    paper = null;
    document.documentElement.removeAttribute("data-print");
    for (const fold of /** @type {NodeListOf<HTMLDetailsElement>} */ (document.querySelectorAll("details[data-opened]"))) {
      fold.open = false;
      fold.removeAttribute("data-opened");
    }
  }

  /** @param {boolean} all */
  function print(all) {
    isLong = all;
    window.print();
    isLong = false;
  }

  if (!place || !globalThis.sparesPart) return;
  const said = globalThis.sparesRules.words.working.paper;
  const buttons = [false, true].map((all) => {
    const button = made("button", `button print__${all ? "long" : "short"}`, { type: "button" }, all ? said.long : said.short);
    button.addEventListener("click", () => print(all));
    return button;
  });
  place.after(made("div", "prints", {}, ...buttons));
  window.addEventListener("beforeprint", begin);
  window.addEventListener("afterprint", end);
})();
