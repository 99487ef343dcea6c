// The filters under the box: fleet, place, verdict, what is on the shelf, each choice with how many parts it leaves.
(function () {
  "use strict";

  const { counted, filled } = spares.judge;
  const { made, CHOICES } = spares.screen;

  /** @param {Words} words @param {string} id @returns {FilterRow} */
  function filterRow(words, id) {
    const said = words.finder;
    const selects = CHOICES.map((name) => ({
      name, box: made("select", "finder__select", { name, id: `${id}-${name}` }, made("option", "", { value: "" }, said[name].any)),
    }));
    const [fleet, place, verdict] = selects.map(({ box }) => box);
    const stock = made("input", "", { type: "checkbox", name: "stock", id: `${id}-stock` });
    const stockCount = made("span", "finder__count", {});
    document.addEventListener("spares:vehicle", () => { if (spares.screen.vehicle()) fleet.value = ""; });  // a vehicle says more than a fleet
    const row = made("div", "finder__filters", { role: "group", "aria-label": said.filters },
      ...selects.map(({ name, box }) => made("label", "finder__filter", { for: box.id }, made("span", "", {}, said[name].name), box)),
      made("label", "finder__filter finder__stock", { for: stock.id }, stock, made("span", "", {}, said.stock), stockCount));

    const value = () => ({ fleet: fleet.value, place: place.value, verdict: verdict.value, stock: stock.checked });

    const set = (/** @type {Filter} */ filter) => {
      for (const { name, box } of selects) {
        const wanted = filter[name];
        if (wanted && ![...box.options].some((option) => option.value === wanted)) {
          box.append(made("option", "", { value: wanted }, optionName(name, wanted, words)));
        }
        box.value = wanted;
      }
      stock.checked = filter.stock;
    };

    const show = (/** @type {Counts} */ counts) => {
      for (const { name, box } of selects) showChoices(name, box, counts[name], words);
      stockCount.textContent = counted(words.finder.stock_count, counts.stock, {}, words);
    };
    return { row, value, set, show };
  }

  /** Choices that would leave nothing are left out, except the chosen one.
   * @param {FilterName} name @param {HTMLSelectElement} select @param {Choice[]} counts @param {Words} words */
  function showChoices(name, select, counts, words) {
    const chosen = select.value;
    const kept = counts.filter(({ value, n }) => n || value === chosen || !value);
    const told = kept.map(({ value, n }) => filled(words.finder.choice, { name: optionName(name, value, words), n: String(n) }, words));
    const same = select.options.length === kept.length && kept.every(({ value }, at) => select.options[at].value === value);
    if (same) told.forEach((text, at) => { select.options[at].textContent = text; });
    else select.replaceChildren(...kept.map(({ value }, at) => made("option", "", { value }, told[at])));
    select.value = kept.some(({ value }) => value === chosen) ? chosen : "";
  }

  /** @param {FilterName} name @param {string} value @param {Words} words */
  function optionName(name, value, words) {
    if (!value) return words.finder[name].any;
    return name === "verdict" ? words.verdict[value] || value : value;
  }

  spares.screen = { ...spares.screen, filterRow };
})();
