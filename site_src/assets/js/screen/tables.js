// Where there is little room a table is read as a list: each cell says what its column says. Two columns need no such word.
(function () {
  "use strict";

  /** @param {HTMLTableElement} table */
  function label(table) {
    const heads = [...table.querySelectorAll("thead tr:last-child th")].map((head) => (head.textContent || "").trim());
    if (heads.length < 2) return;
    table.setAttribute("data-lists", "");
    for (const row of heads.length > 2 ? table.tBodies[0]?.rows || [] : []) {
      [...row.cells].forEach((cell, at) => { if (at > 0 && heads[at] && !cell.hasAttribute("data-label")) cell.setAttribute("data-label", heads[at]); });
    }
  }

  for (const table of /** @type {NodeListOf<HTMLTableElement>} */ (document.querySelectorAll(".sheet table"))) {
    if (!table.closest(".fires, .hazard")) label(table);
  }
})();
