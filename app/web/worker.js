// Serves the page without a network. A version is its files, all of them: they are fetched together
// into a cache of their own, and the old version goes only when the new one is whole and taken up.
"use strict";
const version = "{{VERSION}}";
const files = "{{FILES}}";
const cache = "levelrun-" + version;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(cache).then((c) =>
    c.addAll(files.map((f) => new Request(f, {cache: "reload"})))));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name !== cache) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "take up") self.skipWaiting();
  if (event.data === "ready?")
    event.waitUntil((async () => {
      const c = await caches.open(cache);
      let whole = true;
      for (const f of files) if (!(await c.match(f))) whole = false;
      event.source.postMessage({ready: whole, version});
    })());
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET" || new URL(event.request.url).origin !== self.location.origin) return;
  event.respondWith((async () => {
    const found = await (await caches.open(cache)).match(event.request, {ignoreSearch: true});
    return found || fetch(event.request);
  })());
});
