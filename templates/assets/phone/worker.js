// Keeps the shell, its scripts, its words and the page of what to do first, so that they open without a line. It keeps no data: what a
// technician did stands in the page's own store, and every other request goes to the server untouched.
/* global FILES, VERSION */

const SHELL = `shell.${VERSION}`;
const WORDS = "words";
const PATIENCE_MS = 4_000;

self.addEventListener("install", (event) => {
  const fresh = FILES.map((path) => new Request(path, { cache: "no-cache", credentials: "omit" }));
  event.waitUntil(caches.open(SHELL).then((cache) => cache.addAll(fresh)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  const drop = (names) => Promise.all(names.filter((name) => name.startsWith("shell.") && name !== SHELL).map((name) => caches.delete(name)));
  event.waitUntil(caches.keys().then(drop).then(() => self.clients.claim()));
});

const kept = (path) => caches.open(SHELL).then((cache) => cache.match(path));

/** What the server says within a moment; otherwise what is kept. */
async function serverFirst(request, otherwise) {
  try {
    return await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch {
    return (await otherwise()) ?? Response.error();
  }
}

async function words(request) {
  const cache = await caches.open(WORDS);
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (fresh.ok) await cache.put(request.url, fresh.clone());
    return fresh;
  } catch {
    return (await cache.match(request.url)) ?? Response.error();
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname === "/today" || (url.pathname.startsWith("/assets/") && FILES.includes(url.pathname))) {
    event.respondWith(kept(url.pathname).then((found) => found ?? fetch(request)));
  } else if (url.pathname === "/urgent") {
    event.respondWith(serverFirst(request, () => kept("/urgent")));
  } else if (/^\/phone\/words\//.test(url.pathname)) {
    event.respondWith(words(request));
  } else if (/^\/l\/[A-Za-z0-9]+$/.test(url.pathname) && request.mode === "navigate") {
    event.respondWith(serverFirst(request, async () => Response.redirect(`/today#label=${url.pathname.slice(3)}`)));
  } else if (url.pathname === "/" && request.mode === "navigate") {
    event.respondWith(serverFirst(request, async () => Response.redirect("/today")));
  }
});
