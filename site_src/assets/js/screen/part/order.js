// How many, for which vehicle, by when: filled in before an order is copied or mailed, never after. None is ordered for a vehicle
// on which the part is not to be fitted: there the order is for another one or for the shelf, and where it is to be fitted
// nowhere, a test piece.
(function () {
  "use strict";

  const { filled, localDay } = spares.judge;
  const { made, named, vehicle } = spares.screen;
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-ordering]"));
  const texts = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".order__text")]);
  const STOCK = "-";
  const TEST = "test";
  const NAMES = /** @type {const} */ (["count", "vehicle", "by"]);
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
    const told = made("span", "ordering__wrong", { id: `order-${id}-wrong`, role: "status" });
    box.setAttribute("aria-describedby", told.id);
    return { box, label, told, element: made("div", "ordering__field", {}, made("label", "", { for: box.id }, label), box, told) };
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
    const stock = made("option", "", { value: STOCK }, said.stock);
    const test = made("option", "", { value: TEST }, said.test);
    whom.append(stock, test);
    const by = made("input", "field__box", { id: "order-by", type: "date", min: today });
    const fields = { count: field("count", said.count, count), vehicle: field("vehicle", said.vehicle, whom), by: field("by", said.needed_by, by) };
    form.replaceChildren(made("p", "ordering__says", {}, said.legend), ...Object.values(fields).map((each) => each.element));
    return { count, whom, stock, test, by, fields, said, words, touched: new Set() };
  }

  /** @param {ReturnType<typeof laidOut>} form @returns {Record<"count" | "vehicle" | "by", string>} */
  function wrongIn({ count, whom, by, said, words }) {
    const carried = vehicle();
    const isForOne = carried && ![STOCK, TEST].includes(whom.value);
    const unfit = isForOne && spares.screen.notOrdered() ? filled(said.wrong_fit, { vehicle: named(carried) }, words) : "";
    return {
      count: /^[1-9]\d{0,3}$/.test(count.value.trim()) ? "" : said.wrong_count,
      vehicle: unfit || (whom.value ? "" : said.wrong_vehicle),
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
    put("vehicle", whom.value === STOCK ? said.stock : whom.value === TEST ? said.test : carried && whom.value ? named(carried) : "…");
    put("needed_by", by.value ? filled("{day:date}", { day: by.value }, words) : "…");
  }

  /** Which choices there are: nowhere to be fitted is a test piece alone.
   * @param {ReturnType<typeof laidOut>} form */
  function offerWhom({ whom, stock, test }) {
    const isTest = spares.screen.notOrdered() === "nowhere";
    for (const option of whom.querySelectorAll("option")) option.disabled = option.value !== "" && (option === test) !== isTest;
    test.hidden = !isTest;
    stock.hidden = isTest;
    if (isTest) whom.value = TEST;
    else if (whom.value === TEST) whom.value = "";
  }

  /** All anew: what is offered and written, what is wrong beside its field once a hand was there, and no button before all is right.
   * @param {ReturnType<typeof laidOut>} form */
  function look(form) {
    offerWhom(form);
    const isForAll = [STOCK, TEST].includes(form.whom.value) ? "all" : "one";
    if (place?.dataset.for !== isForAll) {
      place?.setAttribute("data-for", isForAll);
      document.dispatchEvent(new CustomEvent("spares:ordering"));
    }
    write(form);
    const wrong = wrongIn(form);
    for (const name of NAMES) {
      const text = form.touched.has(name) || (name === "vehicle" && form.whom.value) ? wrong[name] : "";
      if (form.fields[name].told.textContent !== text) form.fields[name].told.textContent = text;
      form.fields[name].box.setAttribute("aria-invalid", String(text !== ""));
    }
    const open = NAMES.filter((name) => wrong[name]);
    const isUnfit = wrong.vehicle !== "" && form.whom.value !== "";
    for (const text of texts) {
      const one = /** @type {HTMLElement} */ (text.closest(".order__one"));
      one.hidden = isUnfit;
      for (const button of one.querySelectorAll("button")) button.disabled = open.length > 0;
      const told = /** @type {HTMLElement} */ (one.querySelector(".order__missing"));
      told.textContent = open.length ? filled(form.said.missing, { fields: open.map((name) => form.fields[name].label.replace(/\?$/, "")) }, form.words) : "";
    }
  }

  /** @param {HTMLElement} text @param {ReturnType<typeof laidOut>} form */
  function offer(text, form) {
    const { to, about } = text.dataset;
    const told = made("span", "order__told", { role: "status" });
    const button = (/** @type {string} */ name, /** @type {string} */ word, /** @type {() => void} */ pressed) => {
      const one = made("button", `button ${name}`, { type: "button" }, word);
      one.addEventListener("click", () => {
        look(form); // a day may have ended since
        if (!one.disabled) pressed();
      });
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
    text.before(made("p", "order__ways", {}, copy, mail, told, made("span", "order__missing", {})));
  }

  if (!place || !texts.length) return;
  const form = laidOut(place);
  for (const text of texts) offer(text, form);
  for (const kind of ["input", "change"]) {
    place.addEventListener(kind, ({ target }) => {
      form.touched.add(NAMES.find((name) => form.fields[name].box === target));
      look(form);
    });
  }
  for (const news of ["spares:vehicle", "spares:judged"]) document.addEventListener(news, () => look(form));
  look(form);
})();
