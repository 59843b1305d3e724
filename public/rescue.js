// What is left when the program has stopped: plain elements, the stored data, nothing of the app itself.

const stored = () =>
  new Promise((resolve, reject) => {
    const opening = indexedDB.open("trammel");
    let absent = false;
    // There is no such database: leave none behind, or the app would later find one without its stores.
    opening.onupgradeneeded = () => {
      absent = true;
      opening.transaction.abort();
    };
    opening.onerror = () => (absent ? resolve(null) : reject(opening.error));
    opening.onblocked = () => reject(new Error("another tab holds the data"));
    opening.onsuccess = () => resolve(opening.result);
  });

const rows = (database, name) =>
  new Promise((resolve, reject) => {
    if (!database?.objectStoreNames.contains(name)) return resolve([]);
    const found = [];
    const walk = database.transaction(name, "readonly").objectStore(name).openCursor();
    walk.onerror = () => reject(walk.error);
    walk.onsuccess = () => {
      const cursor = walk.result;
      if (!cursor) return resolve(found);
      found.push([cursor.key, cursor.value]);
      cursor.continue();
    };
  });

const parsed = (text) => {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
};

// The second copy of the entries (src/app/browser/copy.rs).
const copied = async () => {
  const lines = [];
  const cache = await caches.open("trammel-copy");
  for (const piece of await cache.keys()) {
    const text = (await (await cache.match(piece))?.text()) ?? "";
    lines.push(...text.split("\n").filter(Boolean));
  }
  return lines;
};

// A record file that the app opens, in the version of src/report/json.rs; what is broken would break all of it. What is half typed stays here: the password of a folder may be among it.
const rescued = async () => {
  const found = new Map();
  for (const line of await copied().catch(() => [])) found.set(parsed(line)?.id, line);
  try {
    const database = await stored();
    try {
      for (const [id, entry] of await rows(database, "entries")) found.set(id, entry);
    } finally {
      database?.close();
    }
  } catch (error) {
    if (found.size === 0) throw error;
  }
  return `{"format":"trammel-record","version":4,"entries":[${[...found.values()].filter(parsed).join(",")}]}`;
};

const download = async (state) => {
  try {
    const text = await rescued();
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = "trammel-rescue.json";
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
    state.textContent = "Your data is in the file trammel-rescue.json.";
  } catch (error) {
    state.textContent = `The stored data cannot be read: ${error?.message ?? error}`;
  }
};

const element = (name, text, properties = {}) =>
  Object.assign(document.createElement(name), { textContent: text, ...properties });

/** Covers the page with what a person can still do. `message` says what happened. The first call wins. */
globalThis.trammelRescue = (message) => {
  if (document.querySelector(".rescue")) return;
  const overlay = element("div", "", { className: "rescue" });
  overlay.setAttribute("role", "alertdialog");
  overlay.setAttribute("aria-modal", "true");
  overlay.setAttribute("aria-labelledby", "rescue-title");
  overlay.setAttribute("aria-describedby", "rescue-message");
  const state = element("p", "");
  state.setAttribute("role", "status");
  const reload = element("button", "Reload", { type: "button", onclick: () => location.reload() });
  const keep = element("button", "Download my data", { type: "button", onclick: () => download(state) });
  overlay.append(
    element("h1", "Trammel stopped. What you had kept is still stored.", { id: "rescue-title" }),
    element("p", String(message), { id: "rescue-message" }),
    reload,
    keep,
    state,
  );
  for (const before of ["shell", "ahead"]) document.getElementById(before)?.remove();
  for (const covered of document.body.children) covered.inert = true;
  document.body.append(overlay);
  reload.focus();
};
