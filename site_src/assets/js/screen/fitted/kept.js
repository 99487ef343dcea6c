// What was fitted and waits on this tablet until it is handed over, whatever happens to the page; and what was handed over
// last, so that it can be brought back.
(function () {
  "use strict";

  const KEY = "spares.fitted";
  /** What a row of ours has at least; each is a text. */
  const LEAST = /** @type {const} */ (["day", "fleet", "vehicle", "place", "row"]);

  /** @param {unknown} rows @returns {FittedRow[]} those that are ours */
  function rowsIn(rows) {
    const isOurs = (/** @type {Record<string, unknown> | null} */ row) => row !== null && typeof row === "object" && LEAST.every((name) => typeof row[name] === "string");
    return Array.isArray(rows) ? rows.filter(isOurs) : [];
  }

  /** @returns {FittedKept} */
  function read() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || "{}") || {};
      const handed = kept.handed && typeof kept.handed.day === "string" ? { day: kept.handed.day, rows: rowsIn(kept.handed.rows) } : null;
      return { rows: rowsIn(kept.rows), handed };
    } catch {
      return { rows: [], handed: null }; // forbidden, or not ours
    }
  }

  /** @param {FittedKept} kept @returns {boolean} whether it is kept */
  function keep(kept) {
    try {
      localStorage.setItem(KEY, JSON.stringify(kept));
      return true;
    } catch {
      return false; // full or forbidden: then it lasts as long as the page
    }
  }

  /** What tells a row from one alike, drawn once. */
  function newRow() {
    return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  spares.screen = { ...spares.screen, fittedList: { read, keep, newRow } };
})();
