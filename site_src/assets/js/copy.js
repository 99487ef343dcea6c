// Is this copy of one piece? Every file that judges must be there, whole, and of the same build as the page.
//
// Each script and data file ends with a stamp of its build (generator/edge/site/build_identity.py): what was cut off has none.
// The last script of a page says that the page itself is whole. Until then, and whenever anything is amiss, no verdict is
// better than "Ask first".
(function (root) {
  "use strict";

  const MARK = /^[0-9a-f]{32}$/;
  const OURS = /^assets\/(?:js|data)\/.+\.js$/;
  const base = new URL("../../", /** @type {HTMLScriptElement} */ (document.currentScript).src);
  const own = document.querySelector('meta[name="spares-build"]')?.getAttribute("content") || "";
  let hasEnded = false;
  let hasFailed = false;

  /** @returns {"whole" | "loading" | "mixed" | "broken"} */
  function copyState() {
    /** @type {[string, string][]} */
    const stamps = Array.isArray(root.sparesStamps) ? root.sparesStamps : [];
    if (!MARK.test(own)) return "broken";
    if (stamps.some((stamp) => stamp[1] !== own)) return "mixed";
    if (hasFailed) return "broken";
    if (!hasEnded) return document.readyState === "loading" ? "loading" : "broken";
    const stamped = new Set(stamps.map((stamp) => stamp[0]));
    return awaited().every((path) => stamped.has(path)) ? "whole" : "broken";
  }

  /** The files of ours that this page has asked for and that should have run by now. @returns {string[]} */
  function awaited() {
    return [...document.scripts]
      .filter((script) => script.src.startsWith(base.href) && !script.hasAttribute("data-coming"))
      .map((script) => decodeURIComponent(new URL(script.src).pathname.slice(base.pathname.length)))
      .filter((path) => OURS.test(path));
  }

  /** What the table of questions asks of this copy, for one part. @param {string} number */
  function copyFacts(number) {
    return { copy: copyState(), newer_copy: root.spares.newerCopy ? root.spares.newerCopy(number) : "none" };
  }

  /** Something about the copy is known that was not: whoever shows verdicts judges anew. */
  function copyChanged() {
    document.dispatchEvent(new CustomEvent("spares:copy"));
  }

  /** A data file that is read only when it is asked for. @param {string} path @param {string} name of the global that it sets
   * @returns {Promise<any>} */
  function readLate(path, name) {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      const ended = (/** @type {boolean} */ isThere) => {
        script.removeAttribute("data-coming");
        hasFailed = hasFailed || !isThere || root[name] === undefined;
        copyChanged();
        if (hasFailed) reject(new Error(`${path} cannot be read`));
        else resolve(root[name]);
      };
      script.setAttribute("data-coming", "");
      script.src = new URL(path, base).href;
      script.onload = () => ended(true);
      script.onerror = () => ended(false);
      document.head.append(script);
    });
  }

  /** The last script of the page has run. */
  function pageEnded() {
    hasEnded = true;
    copyChanged();
  }

  root.spares = Object.assign(root.spares || {}, { copyState, copyFacts, copyChanged, readLate, pageEnded });
  document.addEventListener("DOMContentLoaded", copyChanged);
})(/** @type {any} */ (globalThis));
