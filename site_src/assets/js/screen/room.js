// How much room is there, counted in letters? Large text on a tablet is as narrow as a phone.
//
// Where what sticks to the screen would take more than a fifth of its height, the header scrolls away, then the bar.
(function () {
  "use strict";

  const NARROW_REM = 30;
  const VERY_NARROW_REM = 15;
  const MOST = 1 / 5;
  const page = document.documentElement;

  /** @param {string} name @param {string | null} value */
  function tell(name, value) {
    if (page.getAttribute(name) === value) return;
    if (value === null) page.removeAttribute(name);
    else page.setAttribute(name, value);
  }

  function look() {
    const rem = parseFloat(getComputedStyle(page).fontSize) || 16;
    const letters = window.innerWidth / rem;
    tell("data-narrow", letters < VERY_NARROW_REM ? "very" : letters < NARROW_REM ? "yes" : null);
    const high = (/** @type {string} */ selector) => document.querySelector(selector)?.getBoundingClientRect().height || 0;
    const most = window.innerHeight * MOST;
    const [top, bar] = [high(".top"), high(".bar")];
    tell("data-bars", bar > most ? "none" : top + bar > most ? "bar" : null);
  }

  const probe = document.createElement("span");
  probe.className = "probe";
  probe.setAttribute("aria-hidden", "true");
  document.body.append(probe);
  const watch = new ResizeObserver(look);
  for (const each of [probe, ...document.querySelectorAll(".top, .bar")]) watch.observe(each);
  window.addEventListener("resize", look);
  look();
})();
