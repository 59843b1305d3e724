//! A builder who goes through a run with the phone in hand and a twin of the assemblies in front: does what each screen says,
//! reads the twin's instruments, moves what the app says to move.

use anyhow::{Context, Result, bail, ensure};

use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Page, Screen};

use crate::twin::body::Side;
use crate::twin::world::{Corner, Station, Twin};

/// A reading as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Typed {
    /// Path of the step.
    pub(crate) step: String,
    /// Which of the step's readings.
    pub(crate) slot: String,
    /// The number.
    pub(crate) value: f64,
    /// Who read it.
    pub(crate) by: String,
}

/// The builder, the second person, and what they have done so far.
pub(crate) struct Builder {
    /// Whoever holds the phone.
    pub(crate) name: String,
    /// Whoever reads again.
    pub(crate) second: String,
    /// The assemblies.
    pub(crate) twin: Twin,
    /// Every reading that was typed.
    pub(crate) readings: Vec<Typed>,
    /// Every move that was made: step, adjuster, amount in inches.
    pub(crate) moves: Vec<(String, String, f64)>,
    /// Every verdict that was seen: step and word.
    pub(crate) verdicts: Vec<(String, String)>,
}

/// Nobody reads the same check more often than this.
const ATTEMPTS: usize = 25;

impl Builder {
    /// A builder with an empty log.
    #[must_use]
    pub(crate) fn new(name: &str, second: &str, twin: Twin) -> Self {
        let (name, second) = (name.to_owned(), second.to_owned());
        Self { name, second, twin, readings: Vec::new(), moves: Vec::new(), verdicts: Vec::new() }
    }

    /// Does one step and goes on to the next that is offered; gives the screen as it was found. Hold points are not signed:
    /// the caller does that.
    ///
    /// # Errors
    /// When the screen does not let the builder go on.
    pub(crate) async fn step(&mut self, page: &Page) -> Result<Screen> {
        let found = page.screen().await?;
        self.act(page, &found).await.with_context(|| format!("at {}", found.step))?;
        if !page.screen().await?.finished {
            page.go_on(&found.step).await?;
        }
        Ok(found)
    }

    async fn act(&mut self, page: &Page, found: &Screen) -> Result<()> {
        let can = |id: &str| found.can.iter().any(|control| control == id);
        if can("done") {
            page.click("done").await
        } else if can("accept") {
            self.accept(page, &found.step).await
        } else if can("keep-count") {
            let count = if found.step == "pilot" { "4" } else { "48" };
            page.fill("good", count).await?;
            page.click("keep-count").await
        } else if can("begin-reading") || page.has("#reader").await? {
            self.read_blind(page, &found.step).await
        } else {
            self.measure(page, &found.step).await
        }
    }

    /// The presets that the twin's instruments have: 0.1°, 1/32 in, 1/64 in.
    async fn accept(&self, page: &Page, role: &str) -> Result<()> {
        let preset = match role {
            "protractor" => 0,
            _ => 1,
        };
        page.click_on(&format!("label[for=preset-{preset}]")).await?;
        page.fill("instrument-name", &format!("{role} no. 3")).await?;
        page.click("accept").await
    }

    /// Reads, judges and moves until the step is done or another step has to be done first.
    async fn measure(&mut self, page: &Page, step: &str) -> Result<()> {
        for _ in 0..ATTEMPTS {
            let screen = page.screen().await?;
            let Some(verdict) = screen.verdict.clone() else {
                self.read_all(page, step, None).await?;
                continue;
            };
            self.verdicts.push((step.to_owned(), verdict.clone()));
            if verdict == "in" || verdict == "not-judged" {
                return Ok(());
            }
            if let Some(stop) = &screen.stop {
                bail!("the app stops the work: {stop}");
            }
            if screen.moves.is_empty() {
                page.click("again").await?;
                page.wait("document.getElementById('slot-title')").await?;
                continue;
            }
            self.follow(page, &screen).await?;
            if page.screen().await?.next {
                // Another check went stale and comes first.
                return Ok(());
            }
        }
        bail!("not in after {ATTEMPTS} attempts: {:?}", self.verdicts)
    }

    /// Makes every move that the screen asks for, and says so.
    async fn follow(&mut self, page: &Page, screen: &Screen) -> Result<()> {
        for asked in &screen.moves {
            let now = page.screen().await?;
            ensure!(now.moves.contains(asked), "the order {asked:?} went away before it was carried out");
            let before = page.kept().await?;
            self.make(asked.adjuster.as_str(), asked.amount)?;
            page.click_on(&format!(".moved[data-adjuster={}]", asked.adjuster)).await?;
            page.wait(&format!("Number(document.documentElement.dataset.kept) > {before}")).await?;
            self.moves.push((screen.step.clone(), asked.adjuster.clone(), asked.amount));
        }
        page.wait("!document.querySelector('#orders .moved')").await
    }

    fn make(&mut self, adjuster: &str, inches: f64) -> Result<()> {
        match adjuster {
            "saddle" => self.twin.raise_saddle(inches),
            "block" => self.twin.slide_block(inches),
            "saddle-rock" | "block-rock" => self.twin.rock_saddle(inches),
            "joint-left" => self.twin.open_joint(Side::Left, inches),
            "joint-right" => self.twin.open_joint(Side::Right, inches),
            other => bail!("there is no {other} to move"),
        }
        Ok(())
    }

    /// Takes readings until the verdict stands there. The first pass is typed key by key, the later ones by script.
    async fn read_all(&mut self, page: &Page, step: &str, reader: Option<&str>) -> Result<()> {
        let by_hand = step.starts_with("set/") && !self.verdicts.iter().any(|(seen, _)| seen == step);
        loop {
            let screen = page.screen().await?;
            let Some((slot, repeat)) = screen.slot else {
                ensure!(screen.verdict.is_some(), "neither a reading is asked for nor a verdict given: {screen:?}");
                return Ok(());
            };
            let (value, scale) = self.read(step, &slot)?;
            let asked = screen.can.iter().any(|control| control == "sign-plus");
            let keys = keys(value, scale, asked);
            let refused = if by_hand { page.enter_by_hand(&keys).await? } else { page.enter(&keys).await? };
            ensure!(refused.is_empty(), "{slot} {repeat}, {value}: {refused}");
            let by = reader.unwrap_or(&self.name).to_owned();
            self.readings.push(Typed { step: step.to_owned(), slot, value, by });
        }
    }

    /// What the instrument says.
    fn read(&mut self, step: &str, slot: &str) -> Result<(f64, Scale)> {
        let check = step.rsplit('/').next().unwrap_or(step);
        let config = *self.twin.config();
        let (tape, rule) = (Scale::Fraction(parts(config.tape_step)), Scale::Fraction(parts(config.gap_step)));
        let degrees = Scale::Decimal(1);
        let turned = slot.contains("reversed") || slot == "turned";
        Ok(match (check, slot) {
            ("reversal", _) => (self.twin.read_roll(Station::Frame, turned), degrees),
            ("pitch", _) | ("reread", "direct" | "reversed") => (self.twin.read_pitch(Side::Left, turned), degrees),
            ("twist", "frame" | "frame-reversed") => (self.twin.read_roll(Station::Frame, turned), degrees),
            ("twist", _) => (self.twin.read_roll(Station::Tail, turned), degrees),
            ("square" | "reread", "left") => (self.twin.read_diagonal(Side::Left), tape),
            ("square" | "reread", "right") => (self.twin.read_diagonal(Side::Right), tape),
            ("offset", _) => (self.twin.read_offset(), rule),
            ("twins", _) => (17.25, tape),
            ("edge", _) => (0.375, rule),
            ("gaps", "upper-left") => (self.twin.read_gap(Corner::Upper(Side::Left)), rule),
            ("gaps", "upper-right") => (self.twin.read_gap(Corner::Upper(Side::Right)), rule),
            ("gaps", "lower-left") => (self.twin.read_gap(Corner::Lower(Side::Left)), rule),
            ("gaps", "lower-right") => (self.twin.read_gap(Corner::Lower(Side::Right)), rule),
            _ => bail!("no instrument for {slot} at {step}"),
        })
    }

    /// Hands the phone over: the second person reads without having seen a value.
    async fn read_blind(&mut self, page: &Page, step: &str) -> Result<()> {
        let second = self.second.clone();
        page.fill("reader", &second).await?;
        page.click("begin-reading").await?;
        page.appears("#slot-title").await?;
        let earlier: Vec<String> = [("square", "left"), ("square", "right")]
            .iter()
            .filter_map(|(check, slot)| {
                let of = |typed: &&Typed| typed.step == format!("clamped/{check}") && typed.slot == *slot;
                self.readings.iter().rfind(of).map(|typed| fraction(typed.value))
            })
            .collect();
        ensure!(earlier.len() == 2, "both distances were read before");
        for id in ["#verdict", ".reading", "#value", "#previous-step"] {
            ensure!(!page.has(id).await?, "{id} is on the screen of a blind reading");
        }
        let shown = page.text("main").await?;
        ensure!(
            !earlier.iter().any(|value| shown.contains(value)),
            "a first value of {earlier:?} is on the screen: {shown}"
        );
        self.read_all(page, step, Some(&second)).await?;
        let screen = page.screen().await?;
        ensure!(screen.verdict.as_deref() == Some("in"), "the second reader does not agree: {screen:?}");
        Ok(())
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a step is one of a few parts of an inch")]
fn parts(step: f64) -> u32 {
    (1.0 / step).round() as u32
}

/// As the app prints a length on a tape: "227 7/16".
fn fraction(inches: f64) -> String {
    let (mut top, mut bottom) = ((inches.fract() * 64.0).round(), 64.0);
    while top % 2.0 == 0.0 && bottom > 1.0 && top > 0.0 {
        (top, bottom) = (top / 2.0, bottom / 2.0);
    }
    if top == 0.0 { format!("{:.0} in", inches.floor()) } else { format!("{:.0} {top:.0}/{bottom:.0}", inches.floor()) }
}
