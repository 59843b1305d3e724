// The entry screen's work by hand, with no library: a pad with digits and fractions, half-typed digits kept at every key, readings kept
// with strict durability before they are shown, and a verdict by the app's own rule (src/metrology/repeats.rs, verdict.rs). It is what the
// app is held against in `cargo xtask bench proof`: how much of its weight and time is the work itself.

/** Inches: the tape's graduation, what the manual asks for, and the limits around it. */
const STEP = 1 / 32;
const TARGET = 17.25;
const TOLERANCE = 1 / 8;
const REPEATS = 3;

/** Least and largest that a person can have meant here. */
const PLAUSIBLE = [0, 400];

const KEYS = ["1", "2", "3", "back", "4", "5", "6", "clear", "7", "8", "9", "space", "0", "slash", "keep"];
const FACES = { back: "⌫", clear: "C", space: "and", slash: "/", keep: "Keep" };

/** k for 95.45 % by degrees of freedom: Student's t (JCGM 100:2008, table G.2, column 95,45). */
const COVERAGE = [13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28];
/** √n·σ(median)/σ of n normal values. */
const WIDENING = [1, 1, 1.16, 1.092, 1.198, 1.135, 1.214];

const by = (id) => document.getElementById(id);

// The database.

const settled = (request) =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

const opened = () => {
  const request = indexedDB.open("by-hand", 1);
  request.onupgradeneeded = () => {
    request.result.createObjectStore("entries");
    request.result.createObjectStore("drafts");
  };
  return settled(request);
};

const written = (db, store, durability, work) =>
  new Promise((done, failed) => {
    const transaction = db.transaction(store, "readwrite", { durability });
    work(transaction.objectStore(store));
    transaction.oncomplete = () => done();
    transaction.onabort = () => failed(transaction.error);
    transaction.commit();
  });

// Numbers.

/** What "17 1/4", "17" or "3/8" means in inches; null where it means nothing. */
const parsed = (text) => {
  const found = /^(?:(\d+)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(text.trim());
  if (!found || (found[1] === undefined && found[2] === undefined)) return null;
  const [whole, part, of] = found.slice(1).map((digits) => Number(digits ?? 0));
  if (found[3] !== undefined && (of === 0 || part >= of)) return null;
  return whole + (found[3] === undefined ? 0 : part / of);
};

/** A number to the nearest graduation, as it stands on a tape. */
const shown = (inches) => {
  let [part, of] = [Math.round(Math.abs(inches) / STEP), Math.round(1 / STEP)];
  const whole = Math.floor(part / of);
  part -= whole * of;
  while (part && part % 2 === 0) [part, of] = [part / 2, of / 2];
  const words = part ? `${whole ? `${whole} ` : ""}${part}/${of}` : `${whole}`;
  return `${inches < 0 ? "−" : ""}${words} in`;
};

const median = (values) => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

/** Best value and expanded uncertainty of repeats: what the graduation hides or what they scatter by, whichever is larger. */
const estimate = (values) => {
  const n = values.length;
  const hidden = STEP / Math.sqrt(12);
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const freedom = n + 1;
  const s = Math.sqrt((2 * hidden ** 2 + squares) / freedom);
  const scattered = (s * (WIDENING[n - 1] ?? 1.2533)) / Math.sqrt(n);
  const value = median(values);
  if (scattered <= hidden * (1 + 1e-9)) return { value, expanded: 2 * hidden };
  return { value, expanded: (COVERAGE[freedom - 1] ?? 2) * scattered };
};

/** A guard band of the expanded uncertainty on both sides of each limit. */
const judged = ({ value, expanded }) => {
  const slack = 1e-9;
  const [lower, upper] = [TARGET - TOLERANCE, TARGET + TOLERANCE];
  if (value < lower - expanded - slack || value > upper + expanded + slack) return "out";
  return value >= lower + expanded - slack && value <= upper - expanded + slack ? "in" : "can't tell";
};

// The screen.

const start = async () => {
  const db = await opened();
  const reading = (store) => settled(db.transaction(store).objectStore(store).getAll());
  const [entries, drafts] = await Promise.all([reading("entries"), reading("drafts")]);
  const values = entries.map((text) => JSON.parse(text).value);
  let typed = drafts[0] ?? "";

  const show = () => {
    by("reading").textContent = typed === "" ? "–" : `${typed} in`;
    by("count").textContent = `${Math.min(values.length + 1, REPEATS)} of ${REPEATS}`;
    by("readings").replaceChildren(
      ...values.map((value) => Object.assign(document.createElement("li"), { textContent: shown(value) })),
    );
    if (values.length < REPEATS) return;
    const found = estimate(values);
    const verdict = judged(found);
    by("verdict").dataset.verdict = verdict;
    by("verdict").textContent = `${verdict}: ${shown(found.value)}, give or take ${found.expanded.toFixed(3)} in`;
  };

  const draft = () => written(db, "drafts", "relaxed", (drafts) => drafts.put(typed, "reading"));

  const keep = async () => {
    const value = parsed(typed);
    if (value === null || value < PLAUSIBLE[0] || value > PLAUSIBLE[1]) {
      by("refusal").textContent = "That is no distance that can be read here.";
      return;
    }
    const entry = { id: crypto.randomUUID(), at: new Date().toISOString(), text: typed, value, step: STEP, unit: "[in_i]" };
    const key = `${String(Date.now()).padStart(15, "0")} ${entry.id}`;
    try {
      await written(db, "entries", "strict", (entries) => entries.put(JSON.stringify(entry), key));
    } catch (error) {
      by("refusal").textContent = `Not kept: ${error?.message ?? error}`;
      return;
    }
    values.push(value);
    typed = "";
    show();
    await draft();
  };

  const press = (key) => {
    by("refusal").textContent = "";
    if (key === "keep") return keep();
    if (key === "back") typed = typed.slice(0, -1);
    else if (key === "clear") typed = "";
    else if (key === "space") typed = typed && !typed.includes(" ") ? `${typed} ` : typed;
    else if (key === "slash") typed = typed && !typed.includes("/") ? `${typed}/` : typed;
    else if (typed.length < 12) typed += key;
    show();
    return draft();
  };

  by("pad").append(
    ...KEYS.map((key) => {
      const button = document.createElement("button");
      button.type = "button";
      button.id = key === "keep" ? key : `key-${key}`;
      button.textContent = FACES[key] ?? key;
      button.addEventListener("click", () => void press(key));
      return button;
    }),
  );
  show();
  await navigator.serviceWorker?.register("sw.js");
};

start().catch((error) => {
  by("refusal").textContent = `This page could not start: ${error?.message ?? error}`;
});
