//! Typing a number on the entry pad: which keys, and pressing them by script or by the driver.

use anyhow::{Result, ensure};
use serde_json::json;

use crate::Page;

/// What a pad's instrument reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// Decimals, this many after the point.
    Decimal(usize),
    /// Inches and fractions, down to one of these.
    Fraction(u32),
}

/// Ids of the keys that enter `value`, its sign's answer first where the slot asks for one.
///
/// # Panics
/// When the value does not lie on a mark of the scale.
#[must_use]
pub fn keys(value: f64, scale: Scale, asked: bool) -> Vec<String> {
    let mut keys = Vec::new();
    if asked && value != 0.0 {
        keys.push(if value < 0.0 { "sign-minus" } else { "sign-plus" }.to_owned());
    }
    let size = value.abs();
    match scale {
        Scale::Decimal(places) => keys.extend(digits(&format!("{size:.places$}"))),
        Scale::Fraction(finest) => {
            let marks = size * f64::from(finest);
            assert!((marks - marks.round()).abs() < 1e-9, "{value} is not on a 1/{finest} scale");
            let (whole, parts) = (size.floor(), (size.fract() * 64.0).round());
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below 64, and whole")]
            let parts = parts as u32;
            if whole > 0.0 || parts == 0 {
                keys.extend(digits(&format!("{whole:.0}")));
            }
            if parts / 8 > 0 {
                keys.push(format!("eighth-{}", parts / 8));
            }
            for (part, bit) in [(16, 4), (32, 2), (64, 1)] {
                if parts & bit != 0 {
                    keys.push(format!("plus-{part}"));
                }
            }
        }
    }
    keys
}

fn digits(text: &str) -> impl Iterator<Item = String> {
    text.chars().map(|digit| if digit == '.' { "key-point".to_owned() } else { format!("key-{digit}") })
}

/// Shared by the two ways of pressing: waiting, and where on the screen we are.
const COMMON: &str = r"
const root = document.documentElement;
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
const kept = () => Number(root.dataset.kept ?? 0);
const refusal = () => document.getElementById('refusal')?.textContent?.trim() ?? '';
// The pad asks once about a number that it doubts: the builder of these tests reads what there is to read.
const keptRefusedOrAsked = async (before) => {
  const done = () => kept() > before || refusal();
  await until('the reading to be kept, refused or asked about', () => done() || document.getElementById('as-read'));
  if (!done()) {
    globalThis.asked = [...(globalThis.asked ?? []), document.getElementById('doubt-words').textContent];
    document.getElementById('as-read').click();
    await until('the reading to be kept', done);
  }
};
// A verdict that fills the screen is tapped away, as a hand would.
const place = () => {
  document.getElementById('flash')?.click();
  const slot = document.getElementById('slot-title');
  return slot ? `${slot.dataset.slot} ${slot.dataset.repeat}` : document.getElementById('verdict') ? 'verdict' : '';
};";

const PRESS: &str = r"
const [ids, keep] = args;
for (const id of ids) {
  (await until(`#${id}`, () => { const it = document.getElementById(id); return it && !it.disabled && it; })).click();
  await pause();
}
if (!keep) return '';
const [before, from] = [kept(), place()];
(await until('#keep', () => { const it = document.getElementById('keep'); return it && !it.disabled && it; })).click();
await keptRefusedOrAsked(before);
if (kept() === before) return refusal();
await until('the next reading or the verdict', () => place() && place() !== from);
return '';";

const KEPT: &str = r"
const [before, from] = args;
await keptRefusedOrAsked(before);
if (kept() === before) return refusal();
await until('the next reading or the verdict', () => place() && place() !== from);
return '';";

/// The number on the pad.
const SHOWN: &str = r"(() => {
  const text = document.querySelector('#reading span').textContent.trim().replace('\u2212', '-');
  const of = (part) => { const [top, bottom] = part.split('/'); return bottom ? top / bottom : Number(top); };
  const [first, ...rest] = text.replace(/^-/, '').split(' ');
  return (text.startsWith('-') ? -1 : 1) * rest.reduce((sum, part) => sum + of(part), of(first));
})()";

/// The number that keys enter: what [`keys`] made them of.
fn typed(keys: &[String]) -> f64 {
    let (mut digits, mut parts, mut minus) = (String::new(), 0.0, false);
    for key in keys {
        match key.split_once('-') {
            Some(("key", "point")) => digits.push('.'),
            Some(("key", digit)) => digits.push_str(digit),
            Some(("eighth", eighths)) => parts += eighths.parse::<f64>().unwrap_or_default() / 8.0,
            Some(("plus", part)) => parts += 1.0 / part.parse::<f64>().unwrap_or(f64::INFINITY),
            _ => minus = key == "sign-minus",
        }
    }
    let size = digits.parse::<f64>().unwrap_or_default() + parts;
    if minus { -size } else { size }
}

impl Page {
    /// Presses keys by script and leaves the number on the pad.
    ///
    /// # Errors
    /// When the pad lacks one of them.
    pub async fn press(&self, keys: &[String]) -> Result<()> {
        self.run_async::<String>(&format!("{COMMON}{PRESS}"), vec![json!(keys), json!(false)]).await.map(drop)
    }

    /// Presses keys by script, then "keep", and waits until the reading is stored and the next is asked for. Gives what the
    /// pad refused it with; empty when it was kept.
    ///
    /// # Errors
    /// When the pad lacks one of the keys, or neither happens.
    pub async fn enter(&self, keys: &[String]) -> Result<String> {
        self.run_async(&format!("{COMMON}{PRESS}"), vec![json!(keys), json!(true)]).await
    }

    /// The same with every key clicked by the driver, as a finger does.
    ///
    /// # Errors
    /// As [`Self::enter`].
    pub async fn enter_by_hand(&self, keys: &[String]) -> Result<String> {
        // A hit while a verdict fills the screen only puts that away.
        self.wait("!document.getElementById('flash')").await?;
        for (place, key) in keys.iter().enumerate() {
            // The same key again is meant: it comes no sooner than a finger brings it.
            if place > 0 && keys[place - 1] == *key {
                tokio::time::sleep(std::time::Duration::from_millis(280)).await;
            }
            self.click(key).await?;
        }
        let (shown, typed) = (self.value::<f64>(SHOWN).await?, typed(keys));
        ensure!((shown - typed).abs() < 1e-9, "{keys:?} were hit, and the pad shows {shown}");
        let (before, from): (u64, String) = self.run(&format!("{COMMON} return [kept(), place()]"), Vec::new()).await?;
        self.click("keep").await?;
        self.run_async(&format!("{COMMON}{KEPT}"), vec![json!(before), json!(from)]).await
    }
}
