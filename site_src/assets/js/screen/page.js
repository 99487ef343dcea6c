// What every page can do: pit mode. And the words that come with the page.
(function () {
  "use strict";

  const words = /** @type {HTMLScriptElement} */ (document.currentScript).dataset;

  function pitMode() {
    const button = /** @type {HTMLButtonElement | null} */ (document.querySelector(".pit"));
    if (!button) return;
    const show = () => button.setAttribute("aria-pressed", String(isDark()));
    const isDark = () => document.body.getAttribute("data-md-color-scheme") === "slate";
    button.addEventListener("click", () => {
      const on = !isDark();
      document.body.setAttribute("data-md-color-scheme", on ? "slate" : "default");
      try {
        localStorage.setItem("spares.pit", on ? "on" : "off");
      } catch {
        // a tablet may forbid it; the mode then lasts as long as the page
      }
      show();
    });
    show();
    button.hidden = false;
  }

  pitMode();
  const { copy = "", copied = "", notCopied = "" } = words;
  spares.screen = { ...spares.screen, pageWords: { copy, copied, notCopied } };
})();
