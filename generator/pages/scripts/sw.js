// Keeps the whole catalogue on the tablet. Written anew by each build: VERSION and FILES are this build's own.
//
// Files are kept by path and content hash in one store that builds share, so an update fetches only what changed.
// A worker serves only the files of its own list, and only bytes that have the listed hash: two builds never mix, a
// half-uploaded site or a full disk fails the update, and the old catalogue stays whole.
"use strict";

const VERSION = "{{version}}";
/** [path, SHA-256 in hex, kept at once?] of every file of this build. @type {[string, string, boolean][]} */
const FILES = {{files}};

const STORE = "spares-files";
const AT_ONCE = 6;
const BASE = new URL("./", self.location.href);
const HASHES = new Map(FILES.map(([path, hash]) => [path, hash]));

/** The key of a file in the store. @param {string} path @param {string} hash */
const keyOf = (path, hash) => new URL(`${path}?sha256=${hash}`, BASE).href;

/** The path of this build that a URL means, or null. @param {string} url */
function pathOf(url) {
  const target = new URL(url);
  if (target.origin !== BASE.origin || !target.pathname.startsWith(BASE.pathname)) return null;
  const path = decodeURIComponent(target.pathname.slice(BASE.pathname.length));
  if (path === "" || path.endsWith("/")) return `${path}index.html`;
  return path;
}

/** @param {ArrayBuffer} bytes */
async function sha256(bytes) {
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Fetch one file past every cache and keep it; rejects when the server has other bytes. */
async function keep(store, path, hash) {
  const response = await fetch(new URL(path, BASE), { cache: "reload", credentials: "same-origin" });
  if (!response.ok) throw new Error(`${path}: HTTP ${response.status}`);
  const bytes = await response.arrayBuffer();
  if ((await sha256(bytes)) !== hash) throw new Error(`${path}: belongs to another build`);
  const headers = { "content-type": response.headers.get("content-type") || "application/octet-stream" };
  await store.put(keyOf(path, hash), new Response(bytes, { headers }));
}

/** Keep every file of `wanted` that is not kept yet; tells `done(kept, all)` on the way. */
async function keepAll(wanted, done) {
  const store = await caches.open(STORE);
  const kept = new Set((await store.keys()).map((request) => request.url));
  const missing = wanted.filter(([path, hash]) => !kept.has(keyOf(path, hash)));
  let finished = wanted.length - missing.length;
  const next = async () => {
    for (let file = missing.shift(); file; file = missing.shift()) {
      await keep(store, file[0], file[1]);
      done(++finished, wanted.length);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, next));
}

/** Take out whatever belongs to no file of this build. */
async function tidy() {
  const store = await caches.open(STORE);
  const wanted = new Set(FILES.map(([path, hash]) => keyOf(path, hash)));
  const stale = (await store.keys()).filter((request) => !wanted.has(request.url));
  await Promise.all(stale.map((request) => store.delete(request)));
}

/** After a failed update on a full disk: what this update added makes room again; the old build keeps its files. */
async function makeRoom(before) {
  const store = await caches.open(STORE);
  const added = (await store.keys()).filter((request) => !before.has(request.url));
  await Promise.all(added.map((request) => store.delete(request)));
}

async function tell(message) {
  const pages = await self.clients.matchAll({ includeUncontrolled: true });
  for (const page of pages) page.postMessage(message);
}

self.addEventListener("install", (event) => {
  const install = async () => {
    const store = await caches.open(STORE);
    const before = new Set((await store.keys()).map((request) => request.url));
    try {
      await keepAll(
        FILES.filter(([, , now]) => now),
        (kept, all) => (kept % 20 === 0 || kept === all) && tell({ spares: "keeping", kept, all }),
      );
    } catch (error) {
      if (error && error.name === "QuotaExceededError") await makeRoom(before);
      await tell({ spares: "update-failed", reason: String((error && error.message) || error) });
      throw error;
    }
  };
  event.waitUntil(install());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(tidy().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  const message = event.data && event.data.spares;
  if (message === "take-over") self.skipWaiting();
  if (message === "version" && event.ports[0]) event.ports[0].postMessage({ version: VERSION, files: FILES.length });
  if (message === "keep-everything") event.waitUntil(keepEverything());
});

async function keepEverything() {
  try {
    await keepAll(FILES, (kept, all) => (kept % 10 === 0 || kept === all) && tell({ spares: "keeping", kept, all }));
    await tell({ spares: "kept-everything", all: FILES.length });
  } catch (error) {
    await tell({ spares: "keeping-failed", reason: String((error && error.message) || error) });
  }
}

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  const path = pathOf(event.request.url);
  if (path === null || path === "sw.js") return;
  event.respondWith(answer(path, event.request));
});

async function answer(path, request) {
  const hash = HASHES.get(path);
  if (!hash) return notFound();
  const store = await caches.open(STORE);
  const kept = await store.match(keyOf(path, hash));
  if (kept) return kept;
  try {
    await keep(store, path, hash);
    return (await store.match(keyOf(path, hash))) || notFound();
  } catch (error) {
    if (error && error.name === "QuotaExceededError") return fetch(request);
    return new Response("", { status: 503, statusText: "Not on this tablet" });
  }
}

async function notFound() {
  const store = await caches.open(STORE);
  const page = HASHES.has("404.html") && (await store.match(keyOf("404.html", HASHES.get("404.html"))));
  return page ? new Response(await page.blob(), { status: 404, headers: page.headers }) : Response.error();
}
