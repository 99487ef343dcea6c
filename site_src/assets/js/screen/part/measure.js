// Measure the new part: is each size within its limits? An aid; no word of a verdict changes by it. What is typed is kept with
// the ticks of the check until all is done, or the next piece is measured.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made } = spares.screen;
  const table = document.querySelector("table.measure");
  const NUMBER = /^\d{1,5}(?:[.,]\d{1,4})?(?:\s*mm)?$/;
  const LONGEST = 12;
  const NEARLY = 1e-9; // as far as figures of a computer are off

  /** @param {string} typed @returns {number | null} */
  function read(typed) {
    return NUMBER.test(typed) ? Number.parseFloat(typed.replace(",", ".")) : null;
  }

  /** What a size says: "" while nothing is typed, else in, low, high or unread.
   * @param {string} typed @param {number} least @param {number} most @returns {{ is: "" | "in" | "low" | "high" | "unread", by: number }} */
  function judged(typed, least, most) {
    if (!typed) return { is: "", by: 0 };
    const mm = read(typed);
    if (mm === null || !Number.isFinite(least) || !Number.isFinite(most)) return { is: "unread", by: 0 };
    if (mm < least - NEARLY) return { is: "low", by: least - mm };
    if (mm > most + NEARLY) return { is: "high", by: mm - most };
    return { is: "in", by: 0 };
  }

  /** @param {Element} row @param {number} at @param {() => void} changed @param {() => void} keep */
  function offer(row, at, changed, keep) {
    const { words } = globalThis.sparesRules;
    const said = words.working.measure;
    const name = row.querySelector("th")?.textContent || "";
    const box = made("input", "measure__box", { inputmode: "decimal", maxlength: String(LONGEST), autocomplete: "off", id: `measured-${at}`, "aria-label": filled(said.field, { name }, words), "aria-describedby": `measured-${at}-says` });
    const told = made("strong", "measure__says", { id: `measured-${at}-says`, role: "status" });
    row.append(made("td", "measure__cell", { "data-label": said.heading }, box, told));
    const { least, most } = /** @type {HTMLElement} */ (row).dataset;
    const decimal = words.finder.decimal;
    const key = `${name.trim()} ${least}–${most}`;
    const show = () => {
      const { is, by } = judged(box.value.trim(), Number(least), Number(most));
      row.setAttribute("data-is", is);
      const mm = String(Math.round(by * 1000) / 1000).replace(".", decimal);
      told.textContent = is === "" ? "" : is === "in" ? said.is_in : is === "unread" ? filled(said.unread, { decimal }, words) : filled(said[is], { mm }, words);
      changed();
    };
    box.addEventListener("input", () => { show(); keep(); });
    return { box, show, key };
  }

  /** @param {Element} place */
  function start(place) {
    const said = globalThis.sparesRules.words.working.measure;
    const rows = [...place.querySelectorAll("tbody tr")];
    place.querySelector("thead tr")?.append(made("th", "", { scope: "col" }, said.heading));
    const told = made("p", "measure__all", { role: "status" });
    const kept = made("p", "measure__kept", { role: "status" });
    const next = made("button", "button measure__next", { type: "button" }, said.next);
    const changed = () => {
      const all = rows.map((row) => row.getAttribute("data-is") || "");
      const isOut = all.includes("low") || all.includes("high");
      const text = isOut ? said.out : all.every((each) => each === "in") ? said.all_in : "";
      if (told.textContent !== text) told.textContent = text;
      told.classList.toggle("measure__all--out", isOut);
      next.hidden = all.every((each) => each === "");
    };
    const keep = () => {
      const typed = fields.filter(({ box }) => box.value.trim()).map(({ key, box }) => [key, box.value]);
      kept.textContent = spares.screen.keepSizes(Object.fromEntries(typed)) || !typed.length ? "" : globalThis.sparesRules.words.working.check.unkept;
    };
    const fields = rows.map((row, at) => offer(row, at, changed, keep));
    const again = () => {
      const sizes = spares.screen.keptSizes();
      for (const { box, show, key } of fields) { box.value = Object.prototype.hasOwnProperty.call(sizes, key) ? sizes[key].slice(0, LONGEST) : ""; show(); }
    };
    next.addEventListener("click", () => {
      for (const { box, show } of fields) { box.value = ""; show(); }
      keep();
      fields[0]?.box.focus();
    });
    place.after(told, next, kept);
    for (const news of ["spares:vehicle", "spares:checked"]) document.addEventListener(news, again);
    window.addEventListener("pageshow", (event) => { if (event.persisted) again(); });
    again();
  }

  if (table) start(table);
})();
