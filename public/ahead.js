// The pad before the program is there: what stood on the screen when the app was left comes back at once as a picture of itself, whose digits
// can be hit. The program takes them over when it comes to the same pad (src/app/browser/ahead.rs), and the picture away.

const PICTURE = "trammel.picture";
// How long a pad stands before a picture of it is taken in case the app is killed; milliseconds.
const SETTLED = 1000;
// How long a picture stands at most; milliseconds.
const PATIENCE = 15_000;
// A second hit of the same key within so many milliseconds is not meant (src/app/browser/twice.rs).
const BOUNCE = 120;
// As many signs as a pad takes (src/quantity/pad.rs).
const LONGEST = 8;
// The keys of the picture that can be hit, and the numbers that they can change: not those that were said.
const KEY = /^key-(\d|point|back|clear)$/;
const TYPED = /^[+-]?(\d*\.?\d*|(\d+ )?\d+\/\d+)$/;

// What must be as it was when the picture was taken: the program, the look, the place, the settings, how many entries there are.
const circumstances = () =>
  [
    import.meta.url,
    document.querySelector("link[rel=stylesheet]").href,
    location.pathname,
    localStorage.getItem("trammel.settings"),
    localStorage.getItem("trammel.entries"),
  ].join("\n");

// The program's pad: under which name its draft is kept, the draft, until when the app begins with it, and what the picture says of itself. No name
// where there is no pad.
const NONE = { key: "", draft: "", until: "", opening: "" };
let pad = NONE;
// The picture's, as it was, and the keys that were hit since.
let pictured = { key: "", draft: "", hits: [] };

const take = () => {
  if (!pad.key || !TYPED.test(pad.draft)) return;
  const page = document.querySelector(".keyboard")?.closest("main");
  if (!page || document.getElementById("ahead")) return;
  const root = document.documentElement;
  const look = ["lang", "data-look", "data-hand"].map((name) => [name, root.getAttribute(name)]);
  const drawn = new XMLSerializer().serializeToString(page);
  const picture = { ...pad, taken: Date.now(), circumstances: circumstances(), title: document.title, look, drawn };
  try {
    localStorage.setItem(PICTURE, JSON.stringify(picture));
  } catch {
    // No room: the next start waits for the program.
  }
};

// What a key makes of a number, as src/quantity/pad.rs does it.
const typed = (text, key) => {
  const part = text.includes("/") ? text.slice(text.lastIndexOf(" ") + 1) : "";
  const whole = text.slice(0, text.length - part.length).trimEnd();
  const room = whole.length < LONGEST;
  if (key === "clear") return "";
  if (key === "back") return part ? whole : whole.slice(0, -1);
  if (key === "point") return room && !whole.includes(".") ? `${whole || "0"}.` : text;
  return room ? `${whole === "0" ? "" : whole}${key}${part && ` ${part}`}` : text;
};

const hit = (picture, event) => {
  const key = KEY.exec(event.target.closest?.("button")?.id ?? "")?.[1];
  if (!key) return;
  const last = pictured.last;
  pictured.last = { key, at: event.timeStamp };
  if (event.isTrusted && last?.key === key && event.timeStamp - last.at < BOUNCE) return;
  const reading = picture.querySelector("#reading");
  // A count has no unit, and no point.
  if (key === "point" && !reading.querySelector("small").textContent) return;
  pictured.hits.push(key);
  pictured.text = typed(pictured.text, key);
  const { text } = pictured;
  const minus = pictured.draft.startsWith("-") && parseFloat(text) ? "\u2212" : "";
  const mark = picture.querySelector("#key-point")?.textContent ?? ".";
  reading.querySelector("span").textContent = text ? minus + text.replace(".", mark) : "\u2013";
  reading.classList.toggle("empty", !text);
  picture.dataset.hit = "";
};

const put = () => {
  const kept = JSON.parse(localStorage.getItem(PICTURE));
  if (kept?.circumstances !== circumstances()) return false;
  const now = Date.now();
  if (now < kept.taken || (kept.until && now >= Number(kept.until))) return false;
  const parsed = new DOMParser().parseFromString(kept.drawn, "application/xhtml+xml");
  if (parsed.querySelector("parsererror")) return false;
  const picture = Object.assign(document.createElement("div"), { id: "ahead" });
  picture.setAttribute("aria-busy", "true");
  picture.append(document.importNode(parsed.documentElement, true));
  picture.querySelector("#step-count")?.replaceChildren(kept.opening);
  for (const control of picture.querySelectorAll("button, input, select, textarea")) control.disabled ||= !KEY.test(control.id);
  const { key, draft } = kept;
  pictured = { key, draft, text: draft.replace(/^[+-]/, ""), hits: [] };
  picture.addEventListener("click", (event) => hit(picture, event));
  for (const [name, value] of kept.look) if (value !== null) document.documentElement.setAttribute(name, value);
  document.title = kept.title;
  document.getElementById("shell")?.remove();
  document.body.prepend(picture);
  // Whatever keeps the program is to be seen.
  setTimeout(() => globalThis.trammelAhead.leave(), PATIENCE);
  return true;
};

document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "hidden") take();
});

globalThis.trammelAhead = {
  /** The program's pad stands, with this draft; a picture of it says `opening`, and is none any more at `until`, where that is not empty. */
  at(key, draft, until, opening) {
    const other = pad.key !== key;
    pad = { key, draft, until, opening };
    if (other) {
      setTimeout(() => {
        if (pad.key === key) (globalThis.requestIdleCallback ?? setTimeout)(take);
      }, SETTLED);
    }
  },

  /** That pad is gone. */
  gone(key) {
    if (pad.key === key) pad = NONE;
  },

  /** The keys that were hit on the picture, for the program's pad with this draft; null where they belong to another. The picture goes. */
  hits(key, draft) {
    const { hits } = pictured;
    const same = pictured.key === key && pictured.draft === draft;
    this.leave();
    return same || hits.length === 0 ? hits : null;
  },

  /** The picture goes. */
  leave() {
    document.getElementById("ahead")?.remove();
    pictured = { key: "", draft: "", hits: [] };
  },
};

/** Puts the picture up, where there is one of this very place, and waits until it can be seen. */
const ahead = async () => {
  try {
    if (!put()) return;
  } catch {
    // Where the browser stores nothing, or what it stored is no picture.
    return;
  }
  await new Promise((seen) => {
    requestAnimationFrame(() => setTimeout(seen));
    // A page that nobody sees gets no frame.
    setTimeout(seen, 100);
  });
};
