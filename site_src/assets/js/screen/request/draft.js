// What was typed so far, kept on the tablet until the request is handed over, whatever happens to the page.
(function () {
  "use strict";

  const KEY = "spares.request.draft";

  /** @returns {Draft | null} the values by field */
  function read() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || "null");
      return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : null;
    } catch {
      return null; // forbidden, or not ours: then nothing is kept
    }
  }

  /** Keep the values; without the photo where the tablet has no room for it.
   * @param {Draft} values @returns {boolean} whether they are kept */
  function keep(values) {
    for (const each of [values, { ...values, photo: "" }]) {
      try {
        localStorage.setItem(KEY, JSON.stringify(each));
        return true;
      } catch {
        // full or forbidden
      }
    }
    return false;
  }

  function forget() {
    try {
      localStorage.removeItem(KEY);
    } catch {
      // then nothing was kept either
    }
  }

  spares.screen = { ...spares.screen, draft: { read, keep, forget } };
})();
