// Cycles of take, strike, navigate through the page's own controls, as fast as the page goes: a reading is typed and kept, struck out
// with a reason, and another step is looked at.
const [from, cycles, there] = args;

const pause = () => new Promise((done) => setTimeout(done));
const until = async (what, holds) => {
  const end = performance.now() + 15_000;
  for (;;) {
    const found = holds();
    if (found) return found;
    if (performance.now() > end) throw new Error(`waited in vain for ${what}`);
    await pause();
  }
};
const hit = async (selector) => {
  const ready = () => {
    const found = document.querySelector(selector);
    return found && !found.disabled && found;
  };
  (await until(selector, ready)).click();
};
const kept = () => Number(document.documentElement.dataset.kept ?? 0);
const keeps = async (selector) => {
  const before = kept();
  await hit(selector);
  await until("the entry", () => kept() > before);
};
const go = async (to) => {
  const link = Object.assign(document.createElement("a"), { href: to });
  document.body.append(link);
  link.click();
  link.remove();
  await until(to, () => to.endsWith(`/${document.querySelector("main[data-step]")?.dataset.step}`));
};

for (let cycle = from; cycle < from + cycles; cycle += 1) {
  for (const key of ["key-1", "key-7", "eighth-2"]) await hit(`#${key}`);
  await keeps("#keep");
  await hit(".reading");
  const reason = await until("the reason", () => document.getElementById("reason"));
  Object.getOwnPropertyDescriptor(Object.getPrototypeOf(reason), "value").set.call(reason, "misread");
  reason.dispatchEvent(new Event("input", { bubbles: true }));
  await keeps("#strike-out");
  await until("the reading to go", () => !document.querySelector(".reading"));
  const here = location.href;
  await go(there);
  await go(here);
}
