// Is this copy of one piece? Until the last script of a page has run, and whenever anything is amiss, no verdict is better
// than "Ask first".
(function () {
  "use strict";

  const OURS = /^assets\/(?:js|data)\/.+\.js$/;
  /** Where the site begins: the bundles lie in assets/js/. */
  const base = new URL("../../", /** @type {HTMLScriptElement} */ (document.currentScript).src);
  const own = document.querySelector('meta[name="spares-build"]')?.getAttribute("content") || "";
  let hasEnded = false;
  let hasFailed = false;

  /** @returns {CopyState} */
  function copyState() {
    const stamps = Array.isArray(globalThis.sparesStamps) ? globalThis.sparesStamps : [];
    return spares.judge.stateOf({ own, stamps, hasFailed, hasEnded, isLoading: document.readyState === "loading", awaited: awaited() });
  }

  /** The files of ours that this page has asked for and that should have run by now.
   * @returns {string[]} */
  function awaited() {
    return [...document.scripts]
      .filter((script) => script.src.startsWith(base.href) && !script.hasAttribute("data-coming"))
      .map((script) => decodeURIComponent(new URL(script.src).pathname.slice(base.pathname.length)))
      .filter((path) => OURS.test(path));
  }

  /** What the table of questions asks of this copy, for one part; `forgotten` tells what it no longer says of a ground.
   * @param {string} number @param {() => FactValue} [forgotten] @returns {Facts} */
  function copyFacts(number, forgotten) {
    return { copy: copyState(), newer_copy: spares.screen.newerCopy(number), ...(forgotten ? { forgotten: forgotten() } : {}) };
  }

  /** Something about the copy is known that was not: whoever shows verdicts judges anew. */
  function copyChanged() {
    document.dispatchEvent(new CustomEvent("spares:copy"));
  }

  /** A script of ours that is read only when it is asked for.
   * @template T @param {string} path
   * @param {() => T | undefined} given what it gives, once it has run @returns {Promise<T>} */
  function readLate(path, given) {
    return read(path, given, (isThere) => {
      hasFailed = hasFailed || !isThere;
      return !hasFailed;
    });
  }

  /** The same for what no verdict rests on, and a tablet need not hold: where it is missing, the copy is as whole as before.
   * @template T @param {string} path @param {() => T | undefined} given @returns {Promise<T>} */
  function readBeside(path, given) {
    return read(path, given, () => true);
  }

  /** Rejects with an Error whose message says how: lacks, where there is no such file, or broken.
   * @template T @param {string} path @param {() => T | undefined} given
   * @param {(isThere: boolean) => boolean} came whether it may be used @returns {Promise<T>} */
  function read(path, given, came) {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      const ended = (/** @type {boolean} */ isThere) => {
        const value = given();
        if (isThere && OURS.test(path)) script.removeAttribute("data-coming"); // awaited from now on
        else script.remove();
        const mayBeUsed = came(isThere && value !== undefined);
        copyChanged();
        if (mayBeUsed && value !== undefined) resolve(value);
        else reject(Object.assign(new Error(isThere ? "broken" : "lacks"), { path }));
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

  spares.screen = { ...spares.screen, base, copyState, copyFacts, copyChanged, readLate, readBeside, pageEnded };
  document.addEventListener("DOMContentLoaded", copyChanged);
})();
