// Check after fitting: boxes that tick, kept on the tablet with the measured sizes until all is done, for this part on this
// vehicle. A check whose words a newer copy has changed is ticked no more, and a size whose limits it has changed is asked anew.
(function () {
  "use strict";

  const KEY = "spares.checked";
  const { filled, localDay } = spares.judge;
  const { keepOf, keptOf, made, named, vehicle } = spares.screen;
  const items = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".notes.check > ul > li, .notes.check > ol > li")]);

  /** @typedef {{ day: string, texts: string[], sizes: Record<string, string> }} Begun */

  const nameOf = () => `${globalThis.sparesPart?.number} ${vehicle()?.number ?? ""}`;
  const textOf = (/** @type {HTMLElement} */ item) => (item.dataset.text || "");

  /** @returns {Begun} */
  function begun() {
    const own = keptOf(KEY, nameOf());
    const isOurs = own && typeof own.day === "string" && Array.isArray(own.texts);
    if (!isOurs) return { day: localDay(new Date()), texts: [], sizes: {} };
    const sizes = own.sizes && typeof own.sizes === "object" && !Array.isArray(own.sizes) ? Object.entries(own.sizes).filter(([, typed]) => typeof typed === "string") : [];
    return { day: own.day, texts: own.texts.map(String), sizes: Object.fromEntries(sizes) };
  }

  /** @param {Begun} now @returns {boolean} whether it is kept */
  function keep(now) {
    return keepOf(KEY, nameOf(), now.texts.length || Object.keys(now.sizes).length ? now : null);
  }

  /** @param {HTMLElement} item @param {() => void} changed */
  function offer(item, changed) {
    item.dataset.text = (item.textContent || "").replace(/\s+/g, " ").trim();
    const field = made("input", "", { type: "checkbox", autocomplete: "off" });
    const label = made("label", "tick checking", {}, field, made("span", "", {}, ...item.childNodes));
    item.replaceChildren(label);
    item.classList.add("check__one");
    field.addEventListener("change", changed);
    return field;
  }

  /** The measured sizes, by what is measured and its limits; what is kept of them is kept with the ticks.
   * @param {Record<string, string>} sizes @returns {boolean} whether it is kept */
  function keepSizes(sizes) {
    const before = begun();
    return keep({ ...before, day: before.texts.length || Object.keys(before.sizes).length ? before.day : localDay(new Date()), sizes });
  }

  const keptSizes = () => begun().sizes;
  spares.screen = { ...spares.screen, keepSizes, keptSizes };

  function start() {
    const words = globalThis.sparesRules.words;
    const said = words.working.check;
    const told = made("p", "check__told", { role: "status" });
    const clear = made("button", "button check__clear", { type: "button" }, said.anew);
    const fields = items.map((item) => offer(item, () => {
      const before = begun();
      show({ ...before, day: before.texts.length ? before.day : localDay(new Date()), texts: items.filter((_, at) => fields[at].checked).map(textOf) }, true);
    }));

    /** @param {Begun} now @param {boolean} isNew */
    function show(now, isNew) {
      const isKept = !isNew || keep(now);
      items.forEach((item, at) => { fields[at].checked = now.texts.includes(textOf(item)); });
      const ticked = fields.filter((field) => field.checked).length;
      const carried = vehicle();
      clear.hidden = ticked === 0;
      clear.textContent = ticked === fields.length ? said.done : said.anew;
      told.textContent = ticked === 0 ? "" : isKept ? filled(said.kept, { day: now.day, vehicle: carried ? named(carried) : "" }, words) : said.unkept;
    }

    clear.addEventListener("click", () => {
      show({ day: localDay(new Date()), texts: [], sizes: {} }, true);
      document.dispatchEvent(new CustomEvent("spares:checked"));
      fields[0].focus();
    });
    items[items.length - 1].parentElement?.after(told, clear);
    const again = () => show(begun(), false);
    document.addEventListener("spares:vehicle", again);
    window.addEventListener("pageshow", (event) => { if (event.persisted) again(); });
    again();
  }

  if (items.length && globalThis.sparesPart) start();
})();
