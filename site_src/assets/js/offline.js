// Keeps the catalogue on the tablet: registers the worker, tells of a newer catalogue, shows what is stored.
//
// Only over https or localhost; a page opened from disk is its own copy already.
(function () {
  "use strict";

  /** @typedef {{ newer: string, take: string, keeping: string, failed: string, kept: string, stored: string,
   *   unavailable: string, fromDisk: string, keptEverything: string, notKept: string }} OfflineWords */

  const CHECK_EVERY_MS = 30 * 60 * 1000;
  const rules = globalThis.sparesRules;
  /** @type {OfflineWords | undefined} */
  const words = rules && rules.words && rules.words.offline;

  /** Put values into the {places} of a text. @param {string} text @param {Record<string, unknown>} values */
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (whole, key) => (key in values ? String(values[key]) : whole));

  /** @param {number} bytes */
  const megabytes = (bytes) => (bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0);

  /** The bar that says a newer catalogue is ready; it stays until it is tapped. @param {ServiceWorker} waiting */
  function tellNewer(waiting) {
    if (!words || document.querySelector(".newer")) return;
    const bar = document.createElement("div");
    bar.className = "newer";
    bar.setAttribute("role", "status");
    const text = document.createElement("span");
    text.textContent = words.newer;
    const take = document.createElement("button");
    take.type = "button";
    take.textContent = words.take;
    take.addEventListener("click", () => {
      take.disabled = true;
      waiting.postMessage({ spares: "take-over" });
    });
    bar.append(text, take);
    document.body.append(bar);
  }

  /** @param {ServiceWorkerRegistration} registration */
  function watch(registration) {
    if (registration.waiting && navigator.serviceWorker.controller) tellNewer(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const coming = registration.installing;
      if (!coming) return;
      coming.addEventListener("statechange", () => {
        if (coming.state === "installed" && navigator.serviceWorker.controller) tellNewer(coming);
      });
    });
    const check = () => navigator.onLine && registration.update().catch(() => undefined);
    globalThis.addEventListener("online", check);
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && check());
    setInterval(check, CHECK_EVERY_MS);
  }

  /** One build's page must not live on under the next build's worker. */
  function reloadOnTakeOver() {
    let had = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (had) globalThis.location.reload();
      had = true;
    });
  }

  /** The panel on the tablet guide: what is kept, how much room it takes, and "keep everything". */
  function panel() {
    const place = document.querySelector("[data-offline-panel]");
    if (!place || !words) return;
    const status = document.createElement("p");
    status.setAttribute("role", "status");
    const say = (/** @type {string} */ text) => (status.textContent = text);
    place.replaceChildren(status);
    if (location.protocol === "file:") return say(words.fromDisk);
    if (!("serviceWorker" in navigator)) return say(words.unavailable);
    const everything = document.createElement("button");
    everything.type = "button";
    everything.className = "button";
    everything.textContent = words.kept;
    everything.addEventListener("click", async () => {
      if (navigator.storage && navigator.storage.persist) await navigator.storage.persist();
      const worker = (await navigator.serviceWorker.ready).active;
      if (worker) worker.postMessage({ spares: "keep-everything" });
    });
    place.append(everything);
    const showStored = async () => {
      const estimate = navigator.storage && (await navigator.storage.estimate());
      if (!estimate) return;
      const values = { used: megabytes(estimate.usage || 0), room: megabytes(estimate.quota || 0) };
      say(filled(navigator.serviceWorker.controller ? words.stored : words.notKept, values));
    };
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      if (!data || !data.spares) return;
      if (data.spares === "keeping") say(filled(words.keeping, data));
      if (data.spares === "kept-everything") showStored().then(() => status.append(" " + words.keptEverything));
      if (data.spares === "keeping-failed" || data.spares === "update-failed") say(filled(words.failed, data));
    });
    navigator.serviceWorker.ready.then(showStored);
    showStored();
  }

  async function start() {
    panel();
    if (location.protocol === "file:" || !("serviceWorker" in navigator) || !rules) return;
    const here = document.currentScript || document.querySelector("script[src*='assets/js/offline.js']");
    const base = new URL("../../", /** @type {HTMLScriptElement} */ (here).src);
    reloadOnTakeOver();
    const registration = await navigator.serviceWorker.register(new URL("sw.js", base), {
      scope: base.pathname,
      updateViaCache: "none",
    });
    watch(registration);
    if (navigator.storage && navigator.storage.persist) navigator.storage.persist().catch(() => undefined);
  }

  start().catch(() => undefined);
})();
