// The filters under the box: fleet, place, verdict, what is on the shelf, each choice with how many parts it leaves.
(function () {
  "use strict";

  const { filled } = spares.judge;
  const { made, CHOICES } = spares.screen;

  /** @typedef {{ row: HTMLElement, value: () => any, set: (filter: any) => void, show: (counts: any) => void }} Filters */

  /** @param {Words} words @param {string} id @returns {Filters} */
  function filterRow(words, id) {
    const said = words.finder;
    const selects = CHOICES.map((name) => made("select", "finder__select", { name, id: `${id}-${name}` },
      made("option", "", { value: "" }, said[name].any)));
    const stock = made("input", "", { type: "checkbox", name: "stock", id: `${id}-stock` });
    const stockCount = made("span", "finder__count", {});
    const row = made("div", "finder__filters", { role: "group", "aria-label": said.filters },
      ...selects.map((select) => made("label", "finder__filter", { for: select.id }, made("span", "", {}, said[select.name].name), select)),
      made("label", "finder__filter finder__stock", { for: stock.id }, stock, made("span", "", {}, said.stock), stockCount));

    const value = () => ({
      ...Object.fromEntries(selects.map((select) => [select.name, select.value])),
      stock: stock.checked,
    });

    const set = (filter) => {
      for (const select of selects) {
        const wanted = filter[select.name];
        if (wanted && ![...select.options].some((option) => option.value === wanted)) {
          select.append(made("option", "", { value: wanted }, optionName(select.name, wanted, words)));
        }
        select.value = wanted;
      }
      stock.checked = filter.stock;
    };

    const show = (counts) => {
      for (const select of selects) showChoices(select, counts[select.name], words);
      stockCount.textContent = String(counts.stock);
    };
    return { row, value, set, show };
  }

  /** Choices that would leave nothing are left out, except the chosen one.
   * @param {HTMLSelectElement} select @param {{ value: string, n: number }[]} counts @param {Words} words */
  function showChoices(select, counts, words) {
    const chosen = select.value;
    const kept = counts.filter(({ value, n }) => n || value === chosen || !value);
    const told = kept.map(({ value, n }) => filled(words.finder.choice, { name: optionName(select.name, value, words), n: String(n) }, words));
    const same = select.options.length === kept.length && kept.every(({ value }, at) => select.options[at].value === value);
    if (same) told.forEach((text, at) => { select.options[at].textContent = text; });
    else select.replaceChildren(...kept.map(({ value }, at) => made("option", "", { value }, told[at])));
    select.value = kept.some(({ value }) => value === chosen) ? chosen : "";
  }

  /** @param {string} name @param {string} value @param {Words} words */
  function optionName(name, value, words) {
    if (!value) return words.finder[name].any;
    return name === "verdict" ? words.verdict[value] || value : value;
  }

  spares.screen = { ...spares.screen, filterRow };
})();
