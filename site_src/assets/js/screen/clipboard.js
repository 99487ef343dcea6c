// Copying a text, also where there is no clipboard.
(function () {
  "use strict";

  const SHOWN_FOR_MS = 60 * 1000;

  /** Plain http has no clipboard; there the text is marked where it stands and copied the old way. What is marked is what
   * is copied: where another text is shown, it gives way for a minute.
   * @param {string} text @param {HTMLElement} shown @returns {Promise<boolean>} */
  async function copied(text, shown) {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      giveWay(text, shown);
      const range = document.createRange();
      range.selectNodeContents(shown);
      const marked = getSelection();
      marked?.removeAllRanges();
      marked?.addRange(range);
      return document.execCommand("copy");
    }
  }

  /** @param {string} text @param {HTMLElement} shown */
  function giveWay(text, shown) {
    const whole = shown.textContent;
    if (whole === text) return;
    shown.textContent = text;
    setTimeout(() => { shown.textContent = whole; }, SHOWN_FOR_MS);
  }

  spares.screen = { ...spares.screen, copied };
})();
