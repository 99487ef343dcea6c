// A window over the whole page: what lies below does not scroll, and Back closes the window instead of leaving the part.
(function () {
  "use strict";

  const NAME = "spares.window";
  const OPEN = "window-open";

  /** Until the step that a closed window takes back in the history has been taken.
   * @type {Promise<unknown>} */
  let settled = Promise.resolve();

  /** Shows the dialog; it is taken from the page once it is closed, and the history is then as it was.
   * @param {HTMLDialogElement} dialog */
  function openWindow(dialog) {
    let isStep = false; // of the history, with the same address
    const back = () => { isStep = false; dialog.close(); };
    dialog.addEventListener("close", () => {
      window.removeEventListener("popstate", back);
      dialog.remove();
      document.documentElement.classList.remove(OPEN);
      if (!isStep) return;
      settled = new Promise((done) => window.addEventListener("popstate", done, { once: true }));
      history.back();
    });
    document.body.append(dialog);
    document.documentElement.classList.add(OPEN);
    dialog.showModal();
    settled.then(() => {
      if (!dialog.open) return;
      try {
        history.pushState({ ...history.state, [NAME]: true }, "");
      } catch {
        return; // a tablet may forbid it; Back then leaves the part
      }
      isStep = true;
      window.addEventListener("popstate", back);
    });
  }

  spares.screen = { ...spares.screen, openWindow };
})();
