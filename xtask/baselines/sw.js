// Keeps a page of `xtask/baselines` on the device, in the simplest way there is.

const KEPT = "baseline";
const FILES = ["./", {{files}}];

addEventListener("install", (event) => event.waitUntil(caches.open(KEPT).then((cache) => cache.addAll(FILES))));
addEventListener("activate", (event) => event.waitUntil(clients.claim()));
addEventListener("fetch", (event) => {
  event.respondWith(caches.match(event.request, { ignoreVary: true }).then((kept) => kept ?? fetch(event.request)));
});
