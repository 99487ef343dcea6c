// How many, for which vehicle, by when: filled in before an order is copied or mailed, never after.
(function () {
  "use strict";

  const { filled, localDay } = spares.judge;
  const { made, named, vehicle } = spares.screen;
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-ordering]"));
  const texts = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".order__text")]);
  const STOCK = "-";
  const MAIL = /^[^\s@]+@[^\s@]+\.[^\s@]+$/;

  /** @param {string} name @param {string} value */
  function put(name, value) {
    for (const text of texts) for (const piece of text.querySelectorAll(`[data-order="${name}"]`)) piece.textContent = value;
  }

  /** The price for so many, by the maker's own rule.
   * @param {number} count */
  function putPrices(count) {
    for (const text of texts) {
      const { base, each } = text.dataset;
      const piece = text.querySelector('[data-order="price"]');
      if (!piece || base === undefined || each === undefined) continue;
      const price = (Number(base) + count * Number(each)).toFixed(2).replace(".", globalThis.sparesRules.words.finder.decimal);
      piece.textContent = `${price} ${place?.dataset.currency}`;
    }
  }

  /** @param {string} id @param {string} label @param {HTMLElement} box */
  function field(id, label, box) {
    const told = made("span", "ordering__wrong", { id: `order-${id}-wrong` });
    box.setAttribute("aria-describedby", told.id);
    return { told, element: made("div", "ordering__field", {}, made("label", "", { for: box.id }, label), box, told) };
  }

  /** @param {HTMLElement} form */
  function laidOut(form) {
    const words = globalThis.sparesRules.words;
    const said = words.working.order;
    const today = localDay(new Date());
    const count = made("input", "field__box", { id: "order-count", inputmode: "numeric", maxlength: "5", autocomplete: "off" });
    count.value = form.dataset.ordering || "1";
    const { box: whom } = spares.screen.vehicleChoice({ class: "field__box", id: "order-vehicle" });
    whom.options[0].textContent = said.choose;
    whom.append(made("option", "", { value: STOCK }, said.stock));
    const by = made("input", "field__box", { id: "order-by", type: "date", min: today });
    const fields = { count: field("count", said.count, count), vehicle: field("vehicle", said.vehicle, whom), by: field("by", said.needed_by, by) };
    form.replaceChildren(made("p", "ordering__says", {}, said.legend), ...Object.values(fields).map((each) => each.element));
    return { count, whom, by, fields, said, words };
  }

  /** @param {ReturnType<typeof laidOut>} form */
  function wrongIn({ count, whom, by, said }) {
    return {
      count: /^[1-9]\d{0,3}$/.test(count.value.trim()) ? "" : said.wrong_count,
      vehicle: whom.value ? "" : said.wrong_vehicle,
      by: by.value >= localDay(new Date()) ? "" : said.wrong_day,
    };
  }

  /** What is typed stands in every order text.
   * @param {ReturnType<typeof laidOut>} form */
  function write({ count, whom, by, said, words }) {
    const n = count.value.trim();
    if (/^[1-9]\d{0,3}$/.test(n)) {
      put("count", n);
      putPrices(Number(n));
    }
    const carried = vehicle();
    put("vehicle", whom.value === STOCK ? said.stock : carried && whom.value ? named(carried) : "…");
    put("needed_by", by.value ? filled("{day:date}", { day: by.value }, words) : "…");
  }

  /** Whether all is filled in; else it says what is not and leads there.
   * @param {ReturnType<typeof laidOut>} form */
  function isFilledIn(form) {
    const wrong = wrongIn(form);
    const boxes = { count: form.count, vehicle: form.whom, by: form.by };
    for (const name of /** @type {("count" | "vehicle" | "by")[]} */ (Object.keys(boxes))) {
      form.fields[name].told.textContent = wrong[name];
      boxes[name].setAttribute("aria-invalid", String(wrong[name] !== ""));
    }
    const first = /** @type {("count" | "vehicle" | "by")[]} */ (Object.keys(boxes)).find((name) => wrong[name]);
    if (first) {
      boxes[first].focus();
      boxes[first].scrollIntoView({ block: "center" });
    }
    return !first;
  }

  /** @param {HTMLElement} text @param {ReturnType<typeof laidOut>} form */
  function offer(text, form) {
    const { to, about } = text.dataset;
    const told = made("span", "order__told", { role: "status" });
    const button = (/** @type {string} */ name, /** @type {string} */ word, /** @type {() => void} */ pressed) => {
      const one = made("button", `button ${name}`, { type: "button" }, word);
      one.addEventListener("click", () => { if (isFilledIn(form)) pressed(); });
      return one;
    };
    const copy = button("order__copy", spares.screen.pageWords.copy, async () => {
      told.textContent = (await spares.screen.copied(text.textContent || "", text)) ? spares.screen.pageWords.copied : spares.screen.pageWords.notCopied;
    });
    const mail = button("order__mail", form.said.mail, () => {
      const link = made("a", "", {});
      const subject = filled(form.said.subject, { part: about }, form.words);
      link.href = `mailto:${MAIL.test(to || "") ? encodeURIComponent(to || "").replace("%40", "@") : ""}?subject=${encodeURIComponent(subject)}&body=${encodeURIComponent((text.textContent || "").replace(/\n/g, "\r\n"))}`;
      document.body.append(link);
      link.click();
      link.remove();
    });
    text.before(made("p", "order__ways", {}, copy, mail, told));
  }

  if (!place || !texts.length) return;
  const form = laidOut(place);
  for (const text of texts) offer(text, form);
  place.addEventListener("input", () => write(form));
  form.whom.addEventListener("change", () => { if (form.whom.value === STOCK) write(form); });
  document.addEventListener("spares:vehicle", () => write(form));
  write(form);
})();
