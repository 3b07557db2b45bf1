// Serves the page without a network. A version is its files, all of them: they are fetched together
// into a cache of their own, and the old version goes only when the new one is whole and taken up.
"use strict";
const version = "{{VERSION}}";
const files = "{{FILES}}";  // names, and their SHA-256
const cache = "levelrun-" + version;

// A host may be in the middle of being filled, or hand out what it remembers of before: each file is
// compared with its checksum, and a version that is not whole is not taken.
async function put(c, file) {
  const answer = await fetch(new Request(file, {cache: "reload"}));
  if (!answer.ok) throw new Error(file + ": " + answer.status);
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await answer.clone().arrayBuffer()));
  if ([...sum].map((b) => b.toString(16).padStart(2, "0")).join("") !== files[file]) throw new Error(file + " is of another version");
  await c.put(file, answer);
}

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(cache).then((c) => Promise.all(Object.keys(files).map((f) => put(c, f)))));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("levelrun-") && name !== cache) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "take up") self.skipWaiting();
  if (event.data === "ready?")
    event.waitUntil((async () => {
      const c = await caches.open(cache);
      let whole = true;
      for (const f of Object.keys(files)) if (!(await c.match(f))) whole = false;
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
