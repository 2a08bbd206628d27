// The service worker: lets the yard round open where no server answers. vite.config.ts puts in the files of the round
// and a name that changes with them. Answers of the API are never kept here.
const FILES = self.__FILES__;
const CACHE = self.__CACHE__;
const PAGE = '/index.html';
/** A page that takes longer than this is taken from the device. */
const PATIENCE_MS = 4000;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(CACHE)
      .then((cache) => cache.addAll([PAGE, ...FILES]))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name))),
      )
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (/^\/(graphql|files|live|healthz|readyz)(\/|$)/.test(url.pathname)) return;
  if (request.mode === 'navigate') event.respondWith(page(request));
  else if (FILES.includes(url.pathname)) event.respondWith(file(request));
});

async function page(request) {
  const late = new Promise((_, reject) => setTimeout(reject, PATIENCE_MS));
  try {
    return await Promise.race([fetch(request), late]);
  } catch {
    return (await caches.match(PAGE)) ?? Response.error();
  }
}

async function file(request) {
  return (await caches.match(request)) ?? fetch(request);
}
