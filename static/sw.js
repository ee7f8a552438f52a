// The service worker: keeps the app's shell on the phone, so that it opens with no signal.
//
// The server sends this file from /sw.js (never cached) with the words between the two markers below replaced by one JSON
// object: {"version": "short hash over all files", "files": [["/phone/", "sha256..."], ["/static/look.css", "sha256..."], ...]}.
// The list holds the shell page /phone/, and every file that the app may ever ask for; each must answer 200.
// Data is not kept here: that is IndexedDB's, and /sync, /packs, /pack, /join and the office are never touched.

/** @typedef {{version: string, files: [string, string][]}} Shell */
/** @type {Shell} */
const SHELL = /*SHELL*/ { version: 'dev', files: [] } /*END*/;

const PREFIX = 'facemark-shell-';
const CACHE = PREFIX + SHELL.version;
const PAGE = '/phone/';
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const listed = new Set(SHELL.files.map(([url]) => url));

worker.addEventListener('install', (event) => {
  event.waitUntil(keepAll());
  // Where the browser can, it answers from the cache by itself, without waking this worker: a start takes half the time.
  const files = SHELL.files.map(([url]) => ({ condition: { urlPattern: url }, source: { cacheName: CACHE } }));
  if (files.length) event.waitUntil(Promise.resolve(event.addRoutes?.(files)).catch(() => undefined));
});
worker.addEventListener('activate', (event) => event.waitUntil(takeOver()));

/** All files or none: a list with one missing file must not replace a version that works. */
async function keepAll() {
  const cache = await caches.open(CACHE);
  await Promise.all(
    SHELL.files.map(async ([url]) => {
      const answer = await fetch(new Request(url, { cache: 'reload' }));
      if (answer.status !== 200) throw new Error(`${url} answered ${answer.status}`);
      await cache.put(url, answer);
    }),
  );
}

/** Keep this version and the one before it, whose pages may still be open; drop older ones. */
async function takeOver() {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(names.slice(0, -1).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin) return;
  if (request.mode === 'navigate') {
    if (/^\/(phone\/?$|p\/)/i.test(url.pathname)) event.respondWith(kept(PAGE, request));
  } else if (listed.has(url.pathname)) {
    event.respondWith(kept(url.pathname, request));
  } else if (url.pathname.startsWith('/static/')) {
    // A page of the version before asks for a file that this one no longer lists.
    event.respondWith(caches.match(url.pathname).then((found) => found ?? fetch(request)));
  }
});

/** @type {Promise<Cache> | undefined} */
let opened;

/** From the cache; from the network only if the browser has thrown the cache away.
 * @param {string} url @param {Request} request */
async function kept(url, request) {
  opened ??= caches.open(CACHE);
  const cache = await opened;
  return (await cache.match(url)) ?? fetch(request);
}

worker.addEventListener('message', (event) => {
  if (event.data === 'use') event.waitUntil(worker.skipWaiting());
  if (event.data === 'ready') event.waitUntil(tellReady(event.ports[0]));
});

/** Answer which listed files are missing from the cache; none means: ready to work without a signal.
 * @param {MessagePort} port */
async function tellReady(port) {
  const cache = await caches.open(CACHE);
  const held = new Set((await cache.keys()).map((request) => new URL(request.url).pathname));
  port.postMessage({ version: SHELL.version, missing: [...listed].filter((url) => !held.has(url)) });
}

// Where the browser offers it, it wakes us when the signal is back.  An open page sends by itself, so that the journal has
// one writer; with no page open there is nothing to do here, and the next start sends.
worker.addEventListener('sync', (event) => event.waitUntil(askPages()));

async function askPages() {
  for (const page of await worker.clients.matchAll({ type: 'window' })) page.postMessage('send');
}
