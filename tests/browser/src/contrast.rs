//! Contrast of text as the guidelines define it (Web Content Accessibility Guidelines 2.2, "relative luminance", "contrast ratio"):
//! computed from what the engine says each text and each ground is painted with.

use anyhow::Result;

use crate::Page;

const MEASURE: &str = r"
const parse = (text) => {
  const numbers = (text.match(/-?[\d.]+(e-?\d+)?/g) ?? []).map(Number);
  if (text.startsWith('rgb')) return [...numbers.slice(0, 3).map((part) => part / 255), numbers[3] ?? 1];
  if (text.startsWith('color(srgb')) return [...numbers.slice(0, 3), numbers[3] ?? 1];
  throw new Error(`a colour that is not understood: ${text}`);
};
const over = (top, below) => [...[0, 1, 2].map((part) => top[part] * top[3] + below[part] * (1 - top[3])), 1];
const luminance = ([r, g, b]) => {
  const linear = (part) => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
};
const ratio = (one, other) => {
  const [bright, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (bright + 0.05) / (dark + 0.05);
};
const ground = (it) => {
  const layers = [];
  for (let at = it; at; at = at.parentElement) {
    const colour = parse(getComputedStyle(at).backgroundColor);
    layers.push(colour);
    if (colour[3] === 1) break;
  }
  return layers.reverse().reduce((below, top) => over(top, below), [1, 1, 1, 1]);
};
let lowest = [Infinity, ''];
let texts = 0;
const measure = (it, colour, words) => {
  for (let at = it; at; at = at.parentElement) if (Number(getComputedStyle(at).opacity) < 1) return;
  const below = ground(it);
  const found = ratio(over(parse(colour), below), below);
  texts += 1;
  if (found < lowest[0]) lowest = [found, words.trim().slice(0, 40)];
};
const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
while (walk.nextNode()) {
  const it = walk.currentNode.parentElement;
  if (!walk.currentNode.data.trim() || !it.checkVisibility() || it.closest('script, style, .unseen')) continue;
  const style = getComputedStyle(it);
  measure(it, it.closest('svg') ? style.fill : style.color, walk.currentNode.data);
}
for (const it of document.querySelectorAll('input:not([type=radio], [type=checkbox], [type=file]), textarea, select')) {
  if (it.checkVisibility()) measure(it, getComputedStyle(it).color, it.value || it.id);
}
if (!texts) throw new Error('no text was measured');
return lowest;";

impl Page {
    /// The least contrast of any text on the page with what it stands on, and that text; words in a drawing too, and on a button that
    /// cannot be pressed.
    ///
    /// # Errors
    /// When a colour is not understood, or there is no text.
    pub async fn lowest_contrast(&self) -> Result<(f64, String)> {
        self.run_async(MEASURE, Vec::new()).await
    }
}
