// Light or dark, before anything is drawn: runs where the page begins, so that no page flashes.
(function (page) {
  "use strict";

  let pit = null;
  try {
    pit = localStorage.getItem("spares.pit");
  } catch {
    // a tablet may forbid it
  }
  const dark = pit === null ? matchMedia("(prefers-color-scheme: dark)").matches : pit === "on";
  document.body.setAttribute("data-md-color-scheme", dark ? "slate" : "default");
  page.classList.replace("no-js", "js");
})(document.documentElement);
