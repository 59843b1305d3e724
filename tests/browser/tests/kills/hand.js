// A hand at the pad of a step with two readings: takes them, strikes some out, goes to another step and comes back, until the browser is
// killed; what the test wishes comes as soon as it can. It tells what it is about to do and what the page shows as kept, at the moment of either;
// a digit once the frame that shows it was drawn, since nobody sees it sooner.
const [address, pace, values, empty, there, wish, seed] = arguments;
const root = document.documentElement;

let state = seed;
const random = () => {
  // Numerical Recipes' quick generator: modulus 2³², multiplier 1664525, increment 1013904223 (from memory).
  state = (state * 1664525 + 1013904223) % 4294967296;
  return state / 4294967296;
};

let number = 0;
const tell = (news) => {
  fetch(address, { method: "POST", mode: "no-cors", body: JSON.stringify({ number: number++, ...news }) }).catch(() => {});
};

const pause = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));
const beat = () => pause(pace[0] + random() * (pace[1] - pace[0]));
const until = async (holds) => {
  for (;;) {
    const found = holds();
    if (found) return found;
    await pause(1);
  }
};
const ready = (selector) => {
  const found = document.querySelector(selector);
  return found && !found.disabled && found;
};
const kept = () => Number(root.dataset.kept ?? 0);
const shown = () => document.querySelector("#reading span")?.textContent ?? "";
const step = () => document.querySelector("main[data-step]")?.dataset.step;

// The value under way, none while a reading is being struck out, and how many of its keys were pressed.
let value = null;
let keys = 0;
// Done in the first turn after the next frame.
const drawn = (then) => {
  const after = new MessageChannel();
  after.port1.onmessage = then;
  requestAnimationFrame(() => after.port2.postMessage(null));
};

let seenKept = kept();
let seenShown = shown();
new MutationObserver(() => {
  if (kept() > seenKept) {
    seenKept = kept();
    tell({ kind: "kept", value });
    keys = 0;
  }
  const now = shown();
  if (now !== seenShown) {
    seenShown = now;
    if (value !== null && keys > 0) {
      const typed = value;
      drawn(() => {
        // A later digit tells of itself; what was kept meanwhile is no longer typed.
        if (value === typed && keys > 0 && shown() === now) tell({ kind: "typed", value, text: now });
      });
    }
  }
}).observe(document, { subtree: true, childList: true, characterData: true, attributes: true, attributeFilter: ["data-kept"] });

const hit = async (selector, what) => {
  const it = await until(() => ready(selector));
  if (what) tell({ kind: "about", what });
  it.click();
};

const keep = async (selector, what) => {
  const before = kept();
  await hit(selector, what);
  // The pad may ask about a number that it doubts.
  await until(() => {
    ready("#as-read")?.click();
    return kept() > before;
  });
};

const take = async () => {
  // Of a session before.
  if (shown() !== empty) {
    value = null;
    ready("#key-clear").click();
    await until(() => shown() === empty);
  }
  value = Math.floor(random() * values.length);
  keys = 0;
  for (const key of values[value]) {
    const it = await until(() => ready(`#${key}`));
    tell({ kind: "about", what: "digit" });
    keys += 1;
    it.click();
    await beat();
  }
  await keep("#keep", "keep");
};

const strike = async () => {
  value = null;
  ready(".reading").click();
  const reason = await until(() => ready("#reason"));
  Object.getOwnPropertyDescriptor(Object.getPrototypeOf(reason), "value").set.call(reason, "misread");
  reason.dispatchEvent(new Event("input", { bubbles: true }));
  await beat();
  await keep("#strike-out", "strike");
};

const go = async (to) => {
  const link = Object.assign(document.createElement("a"), { href: to });
  document.body.append(link);
  tell({ kind: "about", what: "go" });
  link.click();
  link.remove();
  await until(() => step() && to.endsWith(`/${step()}`));
};

(async () => {
  for (;;) {
    document.getElementById("flash")?.click();
    const choice = random();
    if ((wish === "strike" || choice < 0.2) && ready(".reading")) {
      await strike();
    } else if (wish === "go" || choice < 0.35) {
      const here = location.href;
      await go(there);
      await beat();
      await go(here);
    } else if (ready("#again")) {
      ready("#again").click();
    } else if (ready("#key-1")) {
      await take();
    }
    await beat();
  }
})();
