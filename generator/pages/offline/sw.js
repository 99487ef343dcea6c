// Keeps the whole catalogue on the tablet. Written anew by each build: VERSION and FILES are this build's own.
//
// Files are kept by path and content hash in one store that builds share, so an update fetches only what changed.
// A worker serves only the files of its own list, and only bytes that have the listed hash: two builds never mix, a
// half-uploaded site or a full disk fails the update, and the old catalogue stays whole. Whatever else runs under this
// name may write to the store too: so each file is hashed again whenever it is read, and its headers are our own.
"use strict";

const VERSION = "{{version}}";
/** The mark that every page and script of this build carries. */
const BUILD = "{{mark}}";
const NOT_KEPT = {{not_kept}};
/** [path, SHA-256 in hex, kept at once?, bytes] of every file of this build. @type {[string, string, boolean, number][]} */
const FILES = {{files}};

const STORE = "spares-files";
/** What a file is, by its ending; any other is only saved. */
const TYPES = {
  html: "text/html; charset=utf-8", js: "text/javascript; charset=utf-8", css: "text/css; charset=utf-8",
  json: "application/json", webmanifest: "application/manifest+json", txt: "text/plain; charset=utf-8",
  webp: "image/webp", png: "image/png", jpg: "image/jpeg", jpeg: "image/jpeg", svg: "image/svg+xml", ico: "image/x-icon",
  pdf: "application/pdf", zip: "application/zip", woff2: "font/woff2",
};
/** What a waiting worker tells a page of the catalogue before it. */
const RULES = "assets/data/rules.js";
const FINDER = "assets/data/finder.js";
const AT_ONCE = 6;
const BASE = new URL("./", self.location.href);
/** Its presence says that the reader asked for everything; updates then keep everything too. */
const EVERYTHING = new URL("?spares=keep-everything", BASE).href;
const HASHES = new Map(FILES.map(([path, hash]) => [path, hash]));

/** The key of a file in the store. @param {string} path @param {string} hash */
const keyOf = (path, hash) => new URL(`${encodeURI(path)}?sha256=${hash}`, BASE).href;

/** The path of this build that a URL means, or null. @param {string} url */
function pathOf(url) {
  const target = new URL(url);
  if (target.origin !== BASE.origin || !target.pathname.startsWith(BASE.pathname)) return null;
  try {
    const path = decodeURIComponent(target.pathname.slice(BASE.pathname.length));
    return path === "" || path.endsWith("/") ? `${path}index.html` : path;
  } catch {
    return null; // no address of ours
  }
}

/** @param {ArrayBuffer} bytes */
async function sha256(bytes) {
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** A file as it is served: its bytes, and headers that depend on its name alone. @param {string} path @param {ArrayBuffer} bytes */
function served(path, bytes) {
  const type = TYPES[path.slice(path.lastIndexOf(".") + 1).toLowerCase()] || "application/octet-stream";
  const headers = { "content-type": type, "x-content-type-options": "nosniff" };
  if (path.endsWith(".zip")) headers["content-disposition"] = "attachment";
  return new Response(bytes, { headers });
}

/** The bytes of a kept file; null where it is not kept, or is no longer what was kept: then it goes.
 * @param {Cache} store @param {string} path @param {string} hash @returns {Promise<ArrayBuffer | null>} */
async function keptBytes(store, path, hash) {
  const key = keyOf(path, hash);
  const kept = await store.match(key);
  if (!kept) return null;
  const bytes = await kept.arrayBuffer().catch(() => null);
  if (bytes && (await sha256(bytes)) === hash) return bytes;
  await store.delete(key);
  return null;
}

/** One file past every cache; rejects when the server has other bytes than this build.
 * @param {string} path @param {string} hash */
async function fetched(path, hash) {
  const response = await fetch(new URL(encodeURI(path), BASE), { cache: "reload", credentials: "same-origin" });
  if (!response.ok) throw new Error(`${path}: HTTP ${response.status}`);
  const bytes = await response.arrayBuffer();
  if ((await sha256(bytes)) !== hash) throw new Error(`${path}: belongs to another build`);
  return served(path, bytes);
}

/** Keep every file of `wanted` that is not kept yet; tells `done(kept, all)` on the way. After a first failure the
 * others stop as well: nothing goes on writing behind the back of whoever cleans up.
 * @param {[string, string, boolean, number][]} wanted @param {(kept: number, all: number) => void} done */
async function keepAll(wanted, done) {
  const store = await caches.open(STORE);
  const kept = new Set((await store.keys()).map((request) => request.url));
  const missing = [];
  for (const file of wanted) {
    const isThere = kept.has(keyOf(file[0], file[1])) && (await keptBytes(store, file[0], file[1]));
    if (!isThere) missing.push(file);
  }
  let finished = wanted.length - missing.length;
  /** @type {unknown} */
  let failed = null;
  const next = async () => {
    for (let file = missing.shift(); file && !failed; file = missing.shift()) {
      try {
        await store.put(keyOf(file[0], file[1]), await fetched(file[0], file[1]));
        done(++finished, wanted.length);
      } catch (error) {
        failed = failed || error;
      }
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, next));
  if (failed) throw failed;
}

/** Take out whatever belongs to no file of this build. */
async function tidy() {
  const store = await caches.open(STORE);
  const wanted = new Set([EVERYTHING, ...FILES.map(([path, hash]) => keyOf(path, hash))]);
  const stale = (await store.keys()).filter((request) => !wanted.has(request.url));
  await Promise.all(stale.map((request) => store.delete(request)));
}

/** After a failed update on a full disk: what this update added makes room again; the old build keeps its files.
 * @param {Set<string>} before */
async function makeRoom(before) {
  const store = await caches.open(STORE);
  const added = (await store.keys()).filter((request) => !before.has(request.url));
  await Promise.all(added.map((request) => store.delete(request)));
}

/** @param {unknown} error */
const reasonOf = (error) => (isFull(error) ? "full" : String((error instanceof Error && error.message) || error));

/** @param {unknown} error */
const isFull = (error) => error instanceof DOMException && error.name === "QuotaExceededError";

/** @param {object} message */
async function tell(message) {
  const pages = await self.clients.matchAll({ includeUncontrolled: true });
  for (const page of pages) page.postMessage(message);
}

/** @param {number} kept @param {number} all */
const tellKept = (kept, all) => (kept % 20 === 0 || kept === all) && tell({ spares: "keeping", kept, all });

async function install() {
  const store = await caches.open(STORE);
  const before = new Set((await store.keys()).map((request) => request.url));
  try {
    const everything = before.has(EVERYTHING);
    await keepAll(FILES.filter(([, , now]) => now || everything), tellKept);
  } catch (error) {
    if (isFull(error)) await makeRoom(before);
    await tell({ spares: "update-failed", reason: reasonOf(error) });
    throw error;
  }
}

async function keepEverything() {
  const store = await caches.open(STORE);
  const before = new Set((await store.keys()).map((request) => request.url));
  try {
    await keepAll(FILES, tellKept);
    await store.put(EVERYTHING, new Response("asked for by the reader"));
    await tell({ spares: "kept-everything", ...(await state()) });
  } catch (error) {
    if (isFull(error)) await makeRoom(before);
    await tell({ spares: "keeping-failed", reason: reasonOf(error) });
  }
}

/** How much of this build is on the tablet. */
async function state() {
  const store = await caches.open(STORE);
  const there = new Set((await store.keys()).map((request) => request.url));
  const kept = FILES.filter(([path, hash]) => there.has(keyOf(path, hash)));
  const bytes = (/** @type {typeof FILES} */ files) => files.reduce((sum, [, , , size]) => sum + size, 0);
  return { version: VERSION, kept: kept.length, all: FILES.length, keptBytes: bytes(kept), allBytes: bytes(FILES) };
}

/** A file of this build: from the tablet, else from the network when the server still has the same build.
 * @param {string} path @param {Request} request */
async function answer(path, request) {
  const hash = HASHES.get(path);
  const store = await caches.open(STORE);
  if (!hash) return notFound(store);
  const kept = await keptBytes(store, path, hash);
  if (kept) return served(path, kept);
  try {
    const response = await fetched(path, hash);
    await store.put(keyOf(path, hash), response.clone()).catch(() => undefined); // a full disk may still show it
    return response;
  } catch {
    return notKept(request);
  }
}

/** @param {Request} request */
function notKept(request) {
  const headers = { "content-type": "text/html; charset=utf-8", "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'" };
  const [words, back] = NOT_KEPT.replace(/[&<>]/g, (sign) => `&#${sign.charCodeAt(0)};`).split("\n");
  const link = back ? `<p><a style="display:inline-block;padding:1rem 0" href="${BASE.href}index.html">${back}</a></p>` : "";
  const style = "font:1.5rem/1.5 system-ui,sans-serif;margin:2rem;max-width:40rem;color-scheme:light dark";
  const page = `<!doctype html><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>${words}</title><body style="${style}"><p>${words}</p>${link}`;
  return new Response(request.mode === "navigate" ? page : "", { status: 503, headers });
}

/** @param {Cache} store */
async function notFound(store) {
  const hash = HASHES.get("404.html");
  const page = hash && (await keptBytes(store, "404.html", hash));
  return page ? new Response(page, { status: 404, headers: served("404.html", page).headers }) : Response.error();
}

/** What this build says of every part, as the text of its data files, for a page of the build before it.
 * @param {MessagePort} port */
async function tellVerdicts(port) {
  const store = await caches.open(STORE);
  const texts = [RULES, FINDER].map(async (path) => {
    const bytes = await keptBytes(store, path, HASHES.get(path) || "");
    return bytes && new TextDecoder().decode(bytes);
  });
  const [rules, finder] = await Promise.all(texts);
  port.postMessage({ build: BUILD, rules, finder });
}

self.addEventListener("install", (event) => event.waitUntil(install()));

self.addEventListener("activate", (event) => event.waitUntil(tidy().then(() => self.clients.claim())));

self.addEventListener("message", (event) => {
  const message = event.data && event.data.spares;
  if (message === "take-over") self.skipWaiting();
  if (message === "state") event.waitUntil(state().then((now) => event.source.postMessage({ spares: "state", ...now })));
  if (message === "verdicts" && event.ports[0]) event.waitUntil(tellVerdicts(event.ports[0]));
  if (message === "keep-everything") event.waitUntil(keepEverything());
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  const path = pathOf(event.request.url);
  if (path === null || path === "sw.js") return;
  event.respondWith(answer(path, event.request));
});
