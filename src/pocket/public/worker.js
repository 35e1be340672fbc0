/**
 * Keeps the pocket page where there is no signal. The page is one file, so what is kept is always of one piece: it is shown at
 * once, and a newer one is fetched for the next time.
 */
const KEPT = 'pocket-page';
const FILES = ['./', 'manifest.webmanifest', 'icon.svg'];

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(KEPT)
      .then((kept) => kept.addAll(FILES))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET' || new URL(event.request.url).origin !== self.location.origin) return;
  event.respondWith(answer(event));
});

async function answer(event) {
  const kept = await caches.open(KEPT);
  const wanted = event.request.mode === 'navigate' ? './' : event.request;
  const before = await kept.match(wanted);
  const fresh = fetch(event.request).then(async (response) => {
    if (response.ok) await kept.put(wanted, response.clone());
    return response;
  });
  if (before === undefined) return fresh;
  event.waitUntil(fresh.catch(() => undefined));
  return before;
}
