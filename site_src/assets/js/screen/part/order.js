// How many, for which vehicle, by when: filled in before an order is copied or mailed, never after. The order's vehicle is the
// order's alone: it begins as the one that is carried and changes nothing on the page. None is ordered for a vehicle on which
// the part is not to be fitted: there the order is for another one or for the shelf, and where it is to be fitted nowhere, a
// test piece.
(function () {
  "use strict";

  const { filled, localDay } = spares.judge;
  const { made, named, vehicle } = spares.screen;
  const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-ordering]"));
  const texts = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".order__text")]);
  const STOCK = "-";
  const TEST = "test";
  const NAMES = /** @type {const} */ (["count", "vehicle", "by"]);
  const COUNT = /^[1-9]\d{0,3}$/;
  /** No order is needed later than that; a slip of the year is (common practice, no source). */
  const MOST_YEARS = 2;
  const OPEN = "…";
  const MAIL = /^[^\s@]+@[^\s@]+\.[^\s@]+$/;

  /** @param {string} name @param {string} value */
  function put(name, value) {
    for (const text of texts) for (const piece of text.querySelectorAll(`[data-order="${name}"]`)) piece.textContent = value;
  }

  /** What each piece of an order of so many costs: from a price break on, such as "20:4.6", that of the break.
   * @param {number} count @param {string} each @param {string} [breaks] */
  function pieceOf(count, each, breaks) {
    let found = Number(each);
    for (const one of breaks ? breaks.split(" ") : []) {
      const [from, price] = one.split(":");
      if (count >= Number(from)) found = Number(price);
    }
    return found;
  }

  /** The price for so many, by the maker's own rule; open for no number of pieces.
   * @param {number | null} count */
  function putPrices(count) {
    for (const text of texts) {
      const { base, each, breaks } = text.dataset;
      const piece = text.querySelector('[data-order="price"]');
      if (!piece || base === undefined || each === undefined) continue;
      if (count === null) {
        piece.textContent = OPEN;
        continue;
      }
      const price = (Number(base) + count * pieceOf(count, each, breaks)).toFixed(2).replace(".", globalThis.sparesRules.words.finder.decimal);
      piece.textContent = `${price} ${place?.dataset.currency}`;
    }
  }

  /** @param {string} id @param {string} label @param {HTMLInputElement | HTMLSelectElement} box */
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
    count.value = form.dataset.ordering || "";
    const whom = spares.screen.vehicleList({ class: "field__box", id: "order-vehicle" });
    whom.options[0].textContent = said.choose;
    const stock = made("option", "", { value: STOCK }, said.stock);
    const test = made("option", "", { value: TEST }, said.test);
    whom.append(stock, test);
    const by = made("input", "field__box", { id: "order-by", type: "date", min: today, max: lastDay(today) });
    const fields = { count: field("count", said.count, count), vehicle: field("vehicle", said.vehicle, whom), by: field("by", said.needed_by, by) };
    const stands = made("div", "ordering__stands", { role: "status" });
    const anew = made("button", "button ordering__anew", { type: "button" }, said.anew);
    form.replaceChildren(made("p", "ordering__says", {}, said.legend), ...Object.values(fields).map((each) => each.element), stands, anew);
    return { count, whom, stock, test, by, fields, stands, anew, said, words, touched: new Set() };
  }

  /** @param {string} today ISO date */
  const lastDay = (today) => `${Number(today.slice(0, 4)) + MOST_YEARS}${today.slice(4)}`;

  /** The vehicle that the order is for; null for none, the shelf or a test piece.
   * @param {HTMLSelectElement} whom */
  const ordered = (whom) => spares.judge.vehicleOf(whom.value, globalThis.sparesRules.fleets);

  /** @param {string} day ISO date or "" @param {ReturnType<typeof laidOut>["said"]} said */
  function wrongDay(day, said) {
    const today = localDay(new Date());
    if (!day) return said.wrong_no_day;
    if (day < today) return said.wrong_day;
    return day.length > today.length || day > lastDay(today) ? said.wrong_far : "";
  }

  /** @param {ReturnType<typeof laidOut>} form @returns {Record<"count" | "vehicle" | "by", string>} */
  function wrongIn({ count, whom, by, said, words }) {
    const one = ordered(whom);
    const unfit = one && spares.screen.notOrdered(one) ? filled(said.wrong_fit, { vehicle: named(one) }, words) : "";
    return {
      count: COUNT.test(count.value.trim()) ? "" : said.wrong_count,
      vehicle: unfit || (whom.value ? "" : said.wrong_vehicle),
      by: wrongDay(by.value, said),
    };
  }

  /** What is typed stands in every order text; what is wrong leaves its place open.
   * @param {ReturnType<typeof laidOut>} form @param {ReturnType<typeof wrongIn>} wrong */
  function write({ count, whom, by, said, words }, wrong) {
    const n = count.value.trim();
    put("count", wrong.count ? OPEN : n);
    putPrices(wrong.count ? null : Number(n));
    const one = ordered(whom);
    put("vehicle", whom.value === STOCK ? said.stock : whom.value === TEST ? said.test : one ? named(one) : OPEN);
    put("needed_by", wrong.by ? OPEN : filled("{day:date}", { day: by.value }, words));
  }

  /** The verdict of the order's vehicle, where it is not the one that the page speaks of.
   * @param {ReturnType<typeof laidOut>} form */
  function tellStands({ whom, stands, said, words }) {
    const one = ordered(whom);
    const isOther = one && one.number !== vehicle()?.number;
    const lines = isOther ? spares.screen.standsFor(one).map(({ who, word, reason }) => made("p", "", {}, made("b", "", {}, `${who}: ${word}`), ` ${reason}`)) : [];
    const head = isOther && lines.length ? [made("p", "ordering__own", {}, filled(said.own_verdict, { vehicle: named(one) }, words))] : [];
    stands.replaceChildren(...head, ...lines);
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
    const isFor = ordered(form.whom)?.number || "";
    if (place?.dataset.for !== isFor) {
      place?.setAttribute("data-for", isFor);
      document.dispatchEvent(new CustomEvent("spares:ordering"));
    }
    const wrong = wrongIn(form);
    write(form, wrong);
    tellStands(form);
    for (const name of NAMES) {
      const text = form.touched.has(name) || (name === "vehicle" && form.whom.value) ? wrong[name] : "";
      if (form.fields[name].told.textContent !== text) form.fields[name].told.textContent = text;
      form.fields[name].box.setAttribute("aria-invalid", String(text !== ""));
    }
    const open = NAMES.filter((name) => wrong[name]);
    const isUnfit = wrong.vehicle !== "" && form.whom.value !== "";
    form.anew.hidden = !Object.keys(spares.screen.keptOrder()).length;
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

  /** What no hand has filled in: one where every vehicle has one, and the vehicle that is carried. Who has moved on to another
   * vehicle since orders for that one.
   * @param {ReturnType<typeof laidOut>} form */
  function begin({ count, whom, by }) {
    const { beside, vehicle: byHand, ...others } = spares.screen.keptOrder();
    const carried = vehicle()?.number ?? "";
    const isMoved = byHand !== undefined && carried !== "" && carried !== (beside ?? "");
    if (isMoved) spares.screen.keepOrder(others);
    const kept = spares.screen.keptOrder();
    count.value = kept.count ?? (place?.dataset.ordering || "");
    by.value = kept.by ?? "";
    whom.value = kept.vehicle ?? "";
    if (!whom.value) whom.value = carried;
  }

  /** @param {ReturnType<typeof laidOut>} form @param {"count" | "vehicle" | "by"} name */
  function keep(form, name) {
    const { [name]: _before, ...others } = spares.screen.keptOrder();
    const typed = form.fields[name].box.value;
    const beside = name === "vehicle" ? { beside: vehicle()?.number ?? "" } : {};
    spares.screen.keepOrder(typed ? { ...others, ...beside, [name]: typed } : others);
    if (name === "vehicle" && !typed) begin(form); // a choice that is taken back is the carried one again
  }

  /** @param {ReturnType<typeof laidOut>} form */
  function anew(form) {
    spares.screen.keepOrder({});
    form.touched.clear();
    begin(form);
    look(form);
  }

  if (!place || !texts.length) return;
  const form = laidOut(place);
  for (const text of texts) offer(text, form);
  for (const kind of ["input", "change"]) {
    place.addEventListener(kind, ({ target }) => {
      const name = NAMES.find((each) => form.fields[each].box === target);
      if (!name) return;
      form.touched.add(name);
      keep(form, name);
      look(form);
    });
  }
  form.anew.addEventListener("click", () => { anew(form); form.count.focus(); });
  document.addEventListener("spares:checked", () => anew(form));
  document.addEventListener("spares:vehicle", () => { begin(form); look(form); });
  document.addEventListener("spares:judged", () => look(form));
  begin(form);
  look(form);
})();
