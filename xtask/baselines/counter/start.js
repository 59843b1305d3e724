// Starts the counter, as the framework's own tools do.

import start from "./counter.js";

await start({ module_or_path: fetch("counter.wasm") });
await navigator.serviceWorker?.register("sw.js");
