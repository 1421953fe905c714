// Keeps the served page for use without a network: everything is fetched once at the first visit and never asked for again
// until the page itself has changed. The build writes the page's digest here, so that a change is a new store.
'use strict';

const STORE = 'loftwire-/*digest*/';
const FILES = ['./', 'manifest.webmanifest', 'icons/icon.svg'];

self.addEventListener('install', (event) => {
  const kept = caches.open(STORE).then((store) => store.addAll(FILES.map((file) => new Request(file, { cache: 'reload' }))));
  event.waitUntil(kept.then(() => self.skipWaiting()));
});

self.addEventListener('activate', (event) => {
  const old = (name) => name.startsWith('loftwire-') && name !== STORE;
  const dropped = caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name))));
  event.waitUntil(dropped.then(() => self.clients.claim()));
});

self.addEventListener('fetch', (event) => {
  const request = event.request;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  const page = request.mode === 'navigate' ? './' : request;
  event.respondWith(caches.open(STORE).then((store) => store.match(page, { ignoreSearch: true })).then((kept) => kept ?? fetch(request)));
});
