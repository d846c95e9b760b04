/* Served as /worker.js, after a line with VERSION, SHELL (the page for writing down an enquiry without signal), FILES
   (what that page is made of), ENQUIRY and STATIC. No page of somebody signed in is ever kept: only these, which
   say the same to everybody. */
const CACHE = `garlandry-${VERSION}`;
const PATIENCE = 6000;

self.addEventListener("install", (event) => event.waitUntil((async () => {
  const cache = await caches.open(CACHE);
  await cache.addAll([SHELL, ...FILES].map((url) => new Request(url, { credentials: "omit", cache: "no-cache" })));
  await self.skipWaiting();
})()));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
  await self.clients.claim();
})()));

const kept = async (asked) => (await caches.open(CACHE)).match(asked);

/* The page itself, or where no answer comes the one that needs none. Nobody waits long for a form to write in. */
const page = async (request, hurried) => {
  const asked = fetch(request);
  try {
    if (!hurried) return await asked;
    return await Promise.race([asked, new Promise((_, late) => setTimeout(late, PATIENCE, new Error("no answer")))]);
  } catch {
    asked.catch(() => {});
    return (await kept(SHELL)) || Response.error();
  }
};

self.addEventListener("fetch", (event) => {
  const { request } = event, { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin || pathname.startsWith("/q/")) return;
  if (request.mode === "navigate") event.respondWith(page(request, pathname === ENQUIRY));
  else if (pathname.startsWith(STATIC)) event.respondWith(kept(request).then((file) => file || fetch(request)));
});
