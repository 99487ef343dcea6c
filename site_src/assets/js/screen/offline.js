// Keeps the catalogue on the tablet: registers the worker, tells of a newer catalogue, shows what is stored.
//
// Only over https or localhost; a page opened from disk is its own copy already.
(function () {
  "use strict";

  const CHECK_EVERY_MS = 30 * 60 * 1000;
  /** "Later" hides the bar for so long, and never what it says of a verdict. */
  const LATER_MS = 10 * 60 * 1000;
  const COME_BACK_EVERY_MS = 60 * 1000;
  const rules = globalThis.sparesRules;
  /** @type {Record<string, string>} */
  const words = rules && rules.words && rules.words.offline;
  const { base } = spares.screen;
  const fromDisk = location.protocol === "file:";
  const canKeep = !fromDisk && "serviceWorker" in navigator;

  /** @type {ServiceWorker | null} the newer catalogue that was told of */
  let known = null;
  let again = 0;

  /** @param {string} text @param {Record<string, string | number>} [facts] */
  const say = (text, facts) => spares.judge.filled(text, facts || {}, rules.words);

  /** @param {number} bytes */
  const megabytes = (bytes) => number(bytes / 1e6, bytes < 1e7 ? 1 : 0);

  /** @param {number} value @param {number} decimals */
  const number = (value, decimals) => value.toFixed(decimals).replace(".", rules.words.finder.decimal);

  /** @param {number} bytes */
  const roomWords = (bytes) => (bytes < 1e9 ? `${megabytes(bytes)} MB` : `${number(bytes / 1e9, 1)} GB`);

  /** @param {string} reason */
  const reasonWords = (reason) => (reason === "full" ? words.full : reason);

  /** @param {string} className @param {string} text @param {() => void} pressed */
  function button(className, text, pressed) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = className;
    made.textContent = text;
    made.addEventListener("click", pressed);
    return made;
  }

  /** On the page about this tablet "Take it" stays, also while the bar is hidden.
   * @param {ServiceWorker} waiting */
  function tellInPanel(waiting) {
    const place = document.querySelector("[data-offline-panel]");
    if (!place || place.querySelector(".offline-panel__take")) return;
    const line = document.createElement("p");
    line.append(words.newer, " ", button("button offline-panel__take", words.take, () => (known || waiting).postMessage({ spares: "take-over" })));
    place.prepend(line);
  }

  /** The bar that says a newer catalogue is ready; it covers nothing that cannot be scrolled free.
   * @param {ServiceWorker} waiting */
  function tellNewer(waiting) {
    tellInPanel(waiting);
    if (known !== waiting) spares.screen.newerWaits(waiting);
    known = waiting;
    if (isPutOff()) return comeBack(waiting);
    const old = document.querySelector(".newer");
    if (old) old.remove();
    const bar = document.createElement("div");
    bar.className = "newer";
    bar.setAttribute("role", "status");
    const text = document.createElement("span");
    text.textContent = words.newer;
    const take = button("newer__take", words.take, () => {
      take.disabled = true;
      text.textContent = words.taking;
      waiting.postMessage({ spares: "take-over" });
    });
    bar.append(text, take, button("newer__later", words.later, () => putOff(bar)));
    document.body.append(bar);
  }

  /** The bar comes back by itself.
   * @param {ServiceWorker} waiting */
  function comeBack(waiting) {
    clearTimeout(again);
    again = setTimeout(() => known === waiting && tellNewer(waiting), COME_BACK_EVERY_MS);
  }

  function isPutOff() {
    try {
      return Date.now() < Number(sessionStorage.getItem("spares.later") || 0);
    } catch {
      return false; // a tablet may forbid it; the bar then comes back on the next page
    }
  }

  /** @param {Element} bar */
  function putOff(bar) {
    bar.remove();
    if (known) comeBack(known);
    try {
      sessionStorage.setItem("spares.later", String(Date.now() + LATER_MS));
    } catch {
      // as above
    }
  }

  /** @param {ServiceWorkerRegistration} registration */
  function watch(registration) {
    const isUpdate = () => Boolean(navigator.serviceWorker.controller);
    if (registration.waiting && isUpdate()) tellNewer(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const coming = registration.installing;
      if (!coming) return;
      coming.addEventListener("statechange", () => {
        if (coming.state === "installed" && isUpdate()) tellNewer(coming);
      });
    });
    const check = () => navigator.onLine && registration.update().catch(() => undefined);
    window.addEventListener("online", check);
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && check());
    setInterval(check, CHECK_EVERY_MS);
  }

  /** One build's page must not live on under the next build's worker. */
  function reloadOnTakeOver() {
    let had = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (had) location.reload();
      had = true;
    });
  }

  /** The panel on the tablet guide: what is kept, how much room it takes, and "keep everything". */
  function panel() {
    const place = document.querySelector("[data-offline-panel]");
    if (!place) return;
    const line = document.createElement("p");
    const more = document.createElement("p");
    line.setAttribute("role", "status");
    place.replaceChildren(line, more);
    if (!canKeep) {
      line.textContent = fromDisk ? words.from_disk : words.unavailable;
      return;
    }
    line.textContent = words.not_yet;
    const everything = button("button", words.everything, async () => {
      everything.disabled = true;
      await askToLast();
      showRoom(more);
      await ask("keep-everything");
    });
    everything.hidden = true;
    place.append(everything);
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      const told = data && data.spares;
      if (told === "keeping") line.textContent = say(words.keeping, data);
      if (told === "update-failed") line.textContent = say(words.failed, { reason: reasonWords(data.reason) });
      if (told === "keeping-failed") {
        line.textContent = say(words.keep_failed, { reason: reasonWords(data.reason) });
        everything.disabled = false;
      }
      if (told === "state" || told === "kept-everything") {
        const facts = { kept: data.kept, all: data.all, kept_mb: megabytes(data.keptBytes), all_mb: megabytes(data.allBytes) };
        const isWhole = data.kept === data.all;
        line.textContent = say(isWhole ? words.whole : words.kept, facts);
        everything.hidden = isWhole;
      }
    });
    ask("state");
    askToLast().then(() => showRoom(more));
  }

  /** @param {HTMLElement} place */
  async function showRoom(place) {
    if (!navigator.storage || !navigator.storage.estimate) return;
    const room = (await navigator.storage.estimate()).quota;
    const lasts = navigator.storage.persisted ? await navigator.storage.persisted() : false;
    const lasting = lasts ? words.lasting : words.not_lasting;
    place.textContent = room ? `${say(words.room, { room: roomWords(room) })} ${lasting}` : lasting;
  }

  /** Ask the browser not to clear the copy by itself; it may refuse, and the panel says so. */
  async function askToLast() {
    if (navigator.storage && navigator.storage.persist) await navigator.storage.persist().catch(() => false);
  }

  /** @param {string} what */
  async function ask(what) {
    const { active } = await navigator.serviceWorker.ready;
    if (active) active.postMessage({ spares: what });
  }

  /** From disk a browser refuses a manifest with an error, so it is named only where it can be read. */
  function nameManifest() {
    const link = document.createElement("link");
    link.rel = "manifest";
    link.href = new URL("manifest.webmanifest", base).href;
    document.head.append(link);
  }

  async function start() {
    panel();
    if (!fromDisk) nameManifest();
    if (!canKeep) return;
    reloadOnTakeOver();
    const worker = new URL("sw.js", base);
    const before = await navigator.serviceWorker.getRegistration(base.href);
    if (before && before.waiting && navigator.serviceWorker.controller) tellNewer(before.waiting);
    const registration = await navigator.serviceWorker.register(worker, { scope: base.pathname, updateViaCache: "none" });
    watch(registration);
    if (matchMedia("(display-mode: standalone)").matches) await askToLast();
  }

  if (words) start().catch((reason) => console.warn("spares: no copy is kept on this tablet.", reason));
})();
