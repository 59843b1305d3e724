//! What a small screen must not do to a page: run over its edge, clip, hide one thing under another, make a target too small.

use anyhow::Result;
use serde_json::json;

use crate::Page;

/// Least width and height of anything that can be tapped, and least height of what a thumb looks for, in CSS pixels.
const TARGET: u32 = 48;
const PRIMARY: u32 = 64;

/// What a thumb looks for.
const PRIMARIES: &str = "#keep, #done, #next, #sign, #accept, .moved, #begin-reading, #keep-count, #understood";

const CHECK: &str = r"
const [least, primary, primaries, thorough] = args;
const found = [];
const name = (it) => it.id ? `#${it.id}` : `${it.localName}.${it.className} '${it.textContent.trim().slice(0, 30)}'`;
const page = document.scrollingElement;
const width = document.documentElement.clientWidth;
if (page.scrollWidth > width) found.push(`the page is ${page.scrollWidth} wide in ${width}`);
const shown = (it) => it.checkVisibility() && it.getBoundingClientRect().width > 0;
// A field in a label is tapped by its label.
const target = (it) => (it.matches('input[type=radio], input[type=checkbox], input[type=file]') && it.closest('label')) || it;
const controls = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [role=button]')];
// What lies under something modal is out of reach.
const modal = document.querySelector('[aria-modal=true]');
const targets = new Set(controls.map(target).filter((it) => shown(it) && (!modal || modal.contains(it))));
for (const it of targets) {
  const box = it.getBoundingClientRect();
  if (box.left < -0.5 || box.right > width + 0.5) found.push(`${name(it)} runs from ${box.left} to ${box.right} in ${width}`);
  if (box.width < least - 0.5 || box.height < least - 0.5) {
    found.push(`${name(it)} is ${box.width.toFixed(1)} by ${box.height.toFixed(1)}`);
  }
  if (it.matches(primaries) && box.height < primary - 0.5) found.push(`${name(it)} is ${box.height.toFixed(1)} high`);
  if (!it.matches('input, textarea') && it.scrollWidth > it.clientWidth + 1 && getComputedStyle(it).display !== 'inline') {
    found.push(`the words of ${name(it)} need ${it.scrollWidth} and get ${it.clientWidth}`);
  }
}
for (const it of document.querySelectorAll('main *, aside *')) {
  if (it.childElementCount || !it.textContent.trim() || !shown(it) || it.closest('svg')) continue;
  const box = it.getBoundingClientRect();
  if (box.left < -0.5 || box.right > width + 0.5) found.push(`the text ${name(it)} runs from ${box.left} to ${box.right} in ${width}`);
}
for (const it of [...targets, ...document.querySelectorAll('h1, h2')]) {
  const texts = document.createTreeWalker(it, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    for (const word of texts.currentNode.data.matchAll(/[^\s\-–.:]+/g)) {
      const range = document.createRange();
      range.setStart(texts.currentNode, word.index);
      range.setEnd(texts.currentNode, word.index + word[0].length);
      if (new Set([...range.getClientRects()].map((box) => Math.round(box.top))).size > 1) found.push(`the word '${word[0]}' is broken in ${name(it)}`);
    }
  }
}
for (const it of document.querySelectorAll('svg')) {
  if (!shown(it)) continue;
  const edge = it.getBoundingClientRect();
  for (const text of it.querySelectorAll('text')) {
    // A text's box has room above and below for letters that it does not hold.
    const box = text.getBoundingClientRect();
    const room = box.height / 5;
    if (box.left < edge.left - 1 || box.right > edge.right + 1 || box.top + room < edge.top || box.bottom - room > edge.bottom) {
      found.push(`the drawing cuts its text '${text.textContent}'`);
    }
  }
}
if (thorough) {
  const at = [page.scrollLeft, page.scrollTop];
  for (const it of targets) {
    if (it.matches(':disabled')) continue;
    it.scrollIntoView({ block: 'center', behavior: 'instant' });
    const box = it.getBoundingClientRect();
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    if (!top || !(it.contains(top) || top.contains(it))) found.push(`${name(it)} lies under ${top ? name(top) : 'nothing'}`);
  }
  page.scrollTo({ left: at[0], top: at[1], behavior: 'instant' });
}
return found;";

impl Page {
    /// What is wrong with the page's layout at its present size, one line each. `thorough`: also scrolls to everything that can
    /// be tapped, to see that nothing lies on it.
    ///
    /// # Errors
    /// When the page cannot be looked at.
    pub async fn layout(&self, thorough: bool) -> Result<Vec<String>> {
        self.run_async(CHECK, vec![json!(TARGET), json!(PRIMARY), json!(PRIMARIES), json!(thorough)]).await
    }
}
