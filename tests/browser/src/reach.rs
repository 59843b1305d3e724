//! What a thumb, a glove and enlarged text need of a page: distances, the half of the screen, the focus in sight, nothing cut off.

use anyhow::Result;
use serde_json::json;

use crate::Page;

/// Least distance between two things that can be tapped, and between what takes something away and what goes on, in CSS pixels.
const APART: u32 = 8;
const CLEAR: u32 = 24;

/// What goes on or keeps.
const KEEPS: &str = "#keep, #done, #next, #sign, #accept, .moved, #begin-reading, #keep-count, #keep-answer, #lay-out";
/// What takes something away.
const TAKES: &str =
    "#key-clear, #undo-move, #strike-out, .strike, #clear-drawn, #not-bad, #lay-out-anew, [id^=forget], [id^=take-out]";

const TARGETS: &str = r"
const name = (it) => it.id ? `#${it.id}` : `${it.localName}.${it.className} '${it.textContent.trim().slice(0, 30)}'`;
const shown = (it) => it.checkVisibility() && it.getBoundingClientRect().width > 0;
const target = (it) => (it.matches('input[type=radio], input[type=checkbox], input[type=file]') && it.closest('label')) || it;
const modal = document.querySelector('[aria-modal=true]');
const targets = [...new Set([...document.querySelectorAll('a[href], button, input, select, textarea, summary, [role=button]')].map(target))]
  .filter((it) => shown(it) && (!modal || modal.contains(it)));
const gap = (a, b) => [
  Math.max(0, Math.max(a.left, b.left) - Math.min(a.right, b.right)),
  Math.max(0, Math.max(a.top, b.top) - Math.min(a.bottom, b.bottom)),
];
const found = [];
";

const SPACING: &str = r"
const [apart, clear, keeps, takes] = args;
document.scrollingElement.scrollTo({ top: 0, behavior: 'instant' });
// What stays at an edge lies over what is scrolled: their distance is not one.
const stuck = (it) => { for (; it; it = it.parentElement) if (/sticky|fixed/.test(getComputedStyle(it).position)) return it; return null; };
const boxes = targets.map((it) => ({ it, box: it.getBoundingClientRect(), stuck: stuck(it) }));
for (const [place, one] of boxes.entries()) {
  for (const other of boxes.slice(place + 1)) {
    if (one.stuck !== other.stuck || one.it.contains(other.it) || other.it.contains(one.it)) continue;
    const [across, down] = gap(one.box, other.box);
    if (across < apart - 0.6 && down < apart - 0.6) {
      found.push(`${name(one.it)} and ${name(other.it)} are ${Math.max(across, down).toFixed(1)} apart`);
    }
    const opposed = (one.it.matches(keeps) && other.it.matches(takes)) || (one.it.matches(takes) && other.it.matches(keeps));
    if (opposed && across < clear && down < clear) {
      found.push(`${name(one.it)} stands beside ${name(other.it)}`);
    }
  }
}
return found;";

const THUMB: &str = r"
if (!document.querySelector('main.run')) return [];
document.scrollingElement.scrollTo({ top: 0, behavior: 'instant' });
const { innerWidth: wide, innerHeight: high } = window;
const left = document.documentElement.dataset.hand === 'left';
for (const it of targets) {
  if (!it.closest('.run-hands, .run-voice, .ways')) continue;
  const box = it.getBoundingClientRect();
  const [x, y] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  if (high > wide && y < high / 2) found.push(`${name(it)} lies at ${y.toFixed(0)} of ${high}`);
  if (wide > high && (left ? x > wide / 2 : x < wide / 2)) {
    found.push(`${name(it)} lies at ${x.toFixed(0)} of ${wide}, for the ${left ? 'left' : 'right'} hand`);
  }
}
const keep = document.querySelector('.dock #keep');
// A notice above the page takes of the room.
const first = document.querySelector('main').getBoundingClientRect().top < 48;
if (first && high > wide && high >= 780 && keep && keep.getBoundingClientRect().bottom > high + 0.5) found.push('the pad ends below the screen');
return found;";

const FOCUS: &str = r"
const page = document.scrollingElement;
const at = page.scrollTop;
const seen = (it) => {
  const box = it.getBoundingClientRect();
  const parts = [0.1, 0.5, 0.9];
  return parts.some((x) => parts.some((y) => {
    const top = document.elementFromPoint(box.left + box.width * x, box.top + box.height * y);
    return top && (it.contains(top) || top.contains(it));
  }));
};
const controls = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [role=button]')]
  .filter((it) => !it.matches(':disabled') && shown(it) && (!modal || modal.contains(it)));
const before = document.activeElement;
for (const order of [controls, [...controls].reverse()]) {
  for (const it of order) {
    it.focus();
    if (document.activeElement !== it) { found.push(`${name(it)} does not take the focus`); continue; }
    if (!seen(target(it))) found.push(`the focus on ${name(it)} is hidden`);
  }
}
before?.focus?.();
page.scrollTo({ top: at, behavior: 'instant' });
return [...new Set(found)];";

const ENLARGED: &str = r"
const width = document.documentElement.clientWidth;
const page = document.scrollingElement;
if (page.scrollWidth > width) found.push(`the page is ${page.scrollWidth} wide in ${width}`);
for (const it of document.querySelectorAll('body *')) {
  if (!it.checkVisibility() || it.closest('svg, .unseen')) continue;
  const style = getComputedStyle(it);
  const words = [...it.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
  const box = it.getBoundingClientRect();
  if (!box.width) continue;
  if (words && style.display !== 'inline' && (it.scrollWidth > it.clientWidth + 1 || it.scrollHeight > it.clientHeight + 1) && it.clientWidth) {
    const lines = it.scrollHeight - it.clientHeight;
    // A line that is set tight draws a little over its box, and nothing hides it.
    if (style.overflow !== 'visible' || it.scrollWidth > it.clientWidth + 1 || lines > parseFloat(style.fontSize) / 2) {
      found.push(`the words of ${name(it)} need ${it.scrollWidth} by ${it.scrollHeight} and get ${it.clientWidth} by ${it.clientHeight}`);
    }
  }
  if (words && (box.left < -0.5 || box.right > width + 0.5)) found.push(`${name(it)} runs from ${box.left.toFixed(0)} to ${box.right.toFixed(0)} in ${width}`);
}
for (const it of targets) {
  const box = it.getBoundingClientRect();
  if (box.left < -0.5 || box.right > width + 0.5) found.push(`${name(it)} runs from ${box.left.toFixed(0)} to ${box.right.toFixed(0)} in ${width}`);
}
return found;";

impl Page {
    /// What stands too close to what, one line each.
    ///
    /// # Errors
    /// When the page cannot be looked at.
    pub async fn spacing(&self) -> Result<Vec<String>> {
        let arguments = vec![json!(APART), json!(CLEAR), json!(KEEPS), json!(TAKES)];
        self.run_async(&format!("{TARGETS}{SPACING}"), arguments).await
    }

    /// What of a step's actions lies outside the half of the screen that the thumb reaches: the lower half upright, the side of the
    /// hand lying. What is below the first screen comes into the lower half by scrolling.
    ///
    /// # Errors
    /// As [`Self::spacing`].
    pub async fn out_of_thumb(&self) -> Result<Vec<String>> {
        self.run_async(&format!("{TARGETS}{THUMB}"), Vec::new()).await
    }

    /// Controls on which the focus cannot be seen, whichever way it came there.
    ///
    /// # Errors
    /// As [`Self::spacing`].
    pub async fn hidden_focus(&self) -> Result<Vec<String>> {
        self.run_async(&format!("{TARGETS}{FOCUS}"), Vec::new()).await
    }

    /// What text of this many per cent of its size runs over or is cut off.
    ///
    /// # Errors
    /// As [`Self::spacing`].
    pub async fn enlarged(&self, percent: u32) -> Result<Vec<String>> {
        let size = "document.documentElement.style.fontSize = arguments[0];";
        self.run::<Option<()>>(size, vec![json!(format!("{percent}%"))]).await?;
        let found = self.run_async(&format!("{TARGETS}{ENLARGED}"), Vec::new()).await;
        self.run::<Option<()>>(size, vec![json!("")]).await?;
        found
    }
}
