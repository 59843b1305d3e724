// Keeps the app on the phone. Every file of a build is fetched and checked before any is used; the build changes only
// when the page asks for it. To switch it off for good, serve a sw.js that unregisters itself and deletes the caches
// whose names begin with "trammel ".

const BUILD = "{{build}}";

// [address below the scope, SHA-256 in base64]
const FILES = [
{{files}}
];

// The same of what is fetched only when the app asks for it, and kept from then on.
const PACKS = new Map([
{{packs}}
].map(([path, expected]) => [new URL(path, self.registration.scope).href, expected]));

// Caches of one origin are shared by all its folders: the scope keeps ours apart from any neighbour's.
const SCOPE = new URL(self.registration.scope);
const OURS = `trammel ${SCOPE.pathname} `;
const CURRENT = `${OURS}app-${BUILD}`;
// A file that the platform's share sheet handed over, until the app has opened it.
const SHARED = `${OURS}shared`;
const KEPT = [CURRENT, SHARED];
const PAGE = SCOPE.href;
// Pages of their own, beside the app's one page.
const HELP = new URL("help/", SCOPE).href;

const digest = async (response) => {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", await response.arrayBuffer()));
  return btoa(String.fromCharCode(...hash));
};

const attempt = async (address, expected, cache) => {
  const response = await fetch(address, { cache, credentials: "same-origin" });
  if (response.status !== 200 || response.redirected) {
    throw new Error(`${address}: status ${response.status}${response.redirected ? ", redirected" : ""}`);
  }
  if ((await digest(response.clone())) !== expected) throw new Error(`${address}: not the file of build ${BUILD}`);
  return response;
};

// A name that holds a hash may come from the browser's own cache, unless that copy is bad.
const checked = async ([path, expected]) => {
  const address = new URL(path, SCOPE).href;
  if (path.startsWith("assets/")) {
    try {
      return [address, await attempt(address, expected, "default")];
    } catch {
      return [address, await attempt(address, expected, "reload")];
    }
  }
  return [address, await attempt(address, expected, "reload")];
};

// The packs that an earlier build kept: whoever speaks a language goes on speaking it without a network.
const packsInUse = async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith(`${OURS}app-`));
  const lists = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
  const used = new Set(lists.flat().map((request) => request.url));
  return [...PACKS].filter(([address]) => used.has(address));
};

const install = async () => {
  const packs = (await packsInUse()).map(async ([address, expected]) => [address, await attempt(address, expected, "reload")]);
  const files = await Promise.all([...FILES.map(checked), ...packs]);
  const cache = await caches.open(CURRENT);
  try {
    await Promise.all(files.map(([address, response]) => cache.put(address, response)));
  } catch (error) {
    await caches.delete(CURRENT);
    throw error;
  }
};

const activate = async () => {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OURS) && !KEPT.includes(name)).map((name) => caches.delete(name)));
  await self.clients.claim();
};

const answer = async (request) => {
  const cache = await caches.open(CURRENT);
  const wanted = request.mode === "navigate" && !request.url.startsWith(HELP) ? PAGE : request;
  const kept = await cache.match(wanted, { ignoreVary: true });
  if (kept) return kept;
  const pack = PACKS.get(request.url);
  if (!pack) return fetch(request);
  const response = await attempt(request.url, pack, "reload");
  await cache.put(request.url, response.clone());
  return response;
};

// The share sheet posts a form to this address, which no server answers: the file is put aside, and the app comes up and offers it.
const SHARE = new URL("share", SCOPE).href;

const putAside = async (request) => {
  try {
    const file = (await request.formData()).get("record");
    const headers = { "X-Name": encodeURIComponent(file.name) };
    const cache = await caches.open(SHARED);
    await cache.put(new URL("shared", SCOPE).href, new Response(file, { headers }));
    return Response.redirect(PAGE, 303);
  } catch {
    return Response.redirect(`${PAGE}#share-failed`, 303);
  }
};

self.addEventListener("install", (event) => event.waitUntil(install()));

self.addEventListener("activate", (event) => event.waitUntil(activate()));

self.addEventListener("message", (event) => {
  if (event.data === "skip-waiting") event.waitUntil(self.skipWaiting());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "POST" && request.url === SHARE) {
    event.respondWith(putAside(request));
    return;
  }
  if (request.method !== "GET" || new URL(request.url).origin !== SCOPE.origin) return;
  event.respondWith(answer(request));
});
