// What every page can do: pit mode, and on a part's page a copy of the order text.
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

  /** @param {HTMLElement} text */
  function addCopyButton(text) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button order__copy";
    button.textContent = words.copy || "";
    const told = document.createElement("span");
    told.setAttribute("role", "status");
    button.addEventListener("click", async () => {
      told.textContent = ((await spares.screen.copied(text.textContent || "", text)) ? words.copied : words.notCopied) || "";
    });
    text.before(button, told);
  }

  pitMode();
  for (const text of document.querySelectorAll(".order__text")) addCopyButton(/** @type {HTMLElement} */ (text));
})();
