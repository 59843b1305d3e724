//! A profile of a browser, the sessions on it, and what is on it after each.

use std::collections::HashSet;
use std::fs;
use std::ops::AddAssign;
use std::path::Path;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail, ensure};
use fastrand::Rng;
use serde_json::json;
use tempfile::TempDir;
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{AppServer, Bench, Engine, Launch, Page};

use crate::moment::Moment;
use crate::reports::{News, Reports};

/// What the hand reads off the tape, in inches: the sheet gives 17 1/4.
const VALUES: [f64; 3] = [17.21875, 17.25, 17.28125];
const TAPE: Scale = Scale::Fraction(32);
/// The step that is read, and one to go to.
const STEP: &str = "twins";
const THERE: &str = "gaps";
const HAND: &str = include_str!("hand.js");

/// What stands on the pad.
const SHOWN: &str = "(document.querySelector('#reading span')?.textContent ?? '')";

/// The entries after a key, as (key, the number that was read, none for anything else), and how many there are in all.
const STORED: &str = r"
const asked = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error);
});
const db = await asked(indexedDB.open('trammel'));
const store = db.transaction('entries').objectStore('entries');
const range = IDBKeyRange.lowerBound(args[0], true);
const [count, keys, values] = await Promise.all([asked(store.count()), asked(store.getAllKeys(range)), asked(store.getAll(range))]);
db.close();
return [count, keys.map((key, place) => [key, JSON.parse(values[place]).body['reading-taken']?.value.value ?? null])];";

/// What a session told before it was killed.
#[derive(Debug, Default)]
pub(crate) struct Told {
    /// Entries that the page showed as kept: places in the list of values, none for a strike.
    pub(crate) kept: Vec<Option<usize>>,
    /// How many digits the page showed.
    pub(crate) digits: usize,
    /// The value that was half typed, and how many of its keys the page showed.
    typed: Option<(usize, usize)>,
}

/// What was acknowledged and is gone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Losses {
    pub(crate) entries: usize,
    pub(crate) digits: usize,
}

impl AddAssign for Losses {
    fn add_assign(&mut self, more: Self) {
        self.entries += more.entries;
        self.digits += more.digits;
    }
}

/// A browser's profile with an example airframe at a step that is read with the tape.
pub(crate) struct Profile<'a> {
    bench: &'a Bench,
    folder: TempDir,
    reports: Reports,
    _app: AppServer,
    run: String,
    page: Page,
    /// For each value what the pad shows after none, one, two … of its keys.
    shown: Vec<Vec<String>>,
    /// The latest entry's key, and how many entries there are.
    latest: (String, usize),
}

async fn opened(bench: &Bench, profile: &Path) -> Result<Page> {
    Ok(Page::new(bench.engine, bench.session(&Launch { profile: Some(profile), args: &[] }).await?))
}

impl<'a> Profile<'a> {
    /// Installs the app, brings the airframe to the step, and learns what the pad shows.
    pub(crate) async fn made(bench: &'a Bench) -> Result<Self> {
        let (app, folder) = (bench.serve()?, tempfile::tempdir()?);
        let page = opened(bench, folder.path()).await?;
        page.open(app.address().as_str()).await?;
        page.kept_for_offline().await?;
        page.make_example(&app).await?;
        let run = page.start_run().await?;
        page.accept(&run, "tape", 1).await?;
        page.step_in(&run, STEP).await?;
        let mut shown = Vec::new();
        for value in VALUES {
            let mut texts = vec![page.value(SHOWN).await?];
            for key in keys(value, TAPE, false) {
                page.press(&[key]).await?;
                page.wait(&format!("{SHOWN} !== {}", json!(texts.last()))).await?;
                texts.push(page.value(SHOWN).await?);
            }
            page.tap("#key-clear").await?;
            page.wait(&format!("{SHOWN} === {}", json!(texts[0]))).await?;
            ensure!(texts.iter().collect::<HashSet<_>>().len() == texts.len(), "each key shows: {texts:?}");
            shown.push(texts);
        }
        let reports = Reports::listen().await?;
        let mut made = Self { bench, folder, reports, _app: app, run, page, shown, latest: (String::new(), 0) };
        made.latest.0 = made.stored().await?.1.pop().context("entries")?.0;
        made.latest.1 = made.stored().await?.0;
        Ok(made)
    }

    async fn stored(&self) -> Result<(usize, Vec<(String, Option<f64>)>)> {
        self.page.run_async(STORED, vec![json!(self.latest.0)]).await
    }

    /// Lets the hand work and kills the browser at this moment.
    pub(crate) async fn killed_at(&mut self, moment: Moment, dice: &mut Rng) -> Result<Told> {
        let values: Vec<Vec<String>> = VALUES.iter().map(|value| keys(*value, TAPE, false)).collect();
        let (there, wish) = (format!("{}/{THERE}", self.run), moment.amid.map(|(deed, _)| deed));
        let arguments = vec![
            json!(self.reports.address()),
            json!(moment.pace()),
            json!(values),
            json!(self.shown[0][0]),
            json!(there),
            json!(wish),
            json!(dice.u32(..)),
        ];
        self.page.run::<Option<()>>(HAND, arguments).await?;
        moment.comes(&self.reports, dice).await;
        self.bench.kill()?;
        all_dead(self.folder.path()).await?;
        self.told(self.reports.take().await?)
    }

    fn told(&self, news: Vec<News>) -> Result<Told> {
        let mut told = Told::default();
        for news in news {
            match news {
                News::Kept { value } => {
                    told.kept.push(value);
                    told.typed = None;
                }
                News::Typed { value, text } => {
                    let keys = self.shown[value].iter().position(|shown| *shown == text);
                    told.typed = Some((value, keys.with_context(|| format!("{text} is not what was typed"))?));
                    told.digits += 1;
                }
                News::About { .. } => {}
            }
        }
        Ok(told)
    }

    /// Starts the browser again: what was acknowledged and is not there. The pad is empty afterwards.
    pub(crate) async fn missing(&mut self, told: &Told) -> Result<Losses> {
        self.page = opened(self.bench, self.folder.path()).await?;
        self.page.open(&format!("{}/{STEP}", self.run)).await?;
        self.page.wait("document.querySelector('#slot-title, #again, #back-on')").await?;
        if self.page.has("#back-on").await? {
            // After some minutes without an entry the app asks how the work goes on.
            self.page.tap("#back-on").await?;
            self.page.wait("document.querySelector('#slot-title, #again')").await?;
        }
        ensure!(!self.page.has("#trouble").await?, "{}", self.page.text("#trouble").await?);

        let (count, stored) = self.stored().await?;
        ensure!(count == self.latest.1 + stored.len(), "{count} entries: one of those before is gone");
        let read = |value: Option<f64>| value.map(|value| VALUES.iter().position(|known| *known == value));
        let is =
            |place: usize, value: &Option<usize>| stored.get(place).is_some_and(|it| read(it.1) == value.map(Some));
        let entries = told.kept.iter().enumerate().filter(|(place, value)| !is(*place, value)).count();
        // What was being stored may be there before anybody was told. Firefox posts by another process, whose last words may be of before.
        let unsaid = stored.len().saturating_sub(told.kept.len());
        let late = if self.bench.engine == Engine::Firefox { 4 } else { 1 };
        ensure!(unsaid <= late, "{unsaid} entries that nobody was told of: {stored:?}");
        if let Some((last, _)) = stored.last() {
            self.latest = (last.clone(), count);
        }
        let digits = match told.typed {
            Some((value, keys)) if unsaid == 0 => self.digits_missing(value, keys).await?,
            _ => 0,
        };
        self.clear().await?;
        Ok(Losses { entries, digits })
    }

    /// How many of a value's first keys are not on the pad.
    async fn digits_missing(&self, value: usize, keys: usize) -> Result<usize> {
        if self.page.has("#again").await? {
            self.page.tap("#again").await?;
        }
        self.page.appears("#slot-title").await?;
        let text: String = self.page.value(SHOWN).await?;
        let there = self.shown[value].iter().position(|shown| *shown == text);
        there.map(|there| keys.saturating_sub(there)).with_context(|| format!("{text} was not typed"))
    }

    async fn clear(&self) -> Result<()> {
        if self.page.has("#key-clear").await? {
            self.page.tap("#key-clear").await?;
            self.page.wait(&format!("{SHOWN} === {}", json!(self.shown[0][0]))).await?;
        }
        Ok(())
    }

    /// At the end the record's own page shows every entry and finds nothing broken.
    pub(crate) async fn whole(&self) -> Result<()> {
        let record = self.run.replace("/run/mate-aft-fuselage", "/record");
        self.page.open(&record).await?;
        let count = json!(format!("{} entries", self.latest.1));
        self.page.wait(&format!("document.getElementById('entry-count')?.textContent.includes({count})")).await?;
        self.page.wait("document.getElementById('whole')?.dataset.unbroken === 'true'").await
    }
}

/// Waits until no process of the browser on this profile is left.
async fn all_dead(profile: &Path) -> Result<()> {
    let name = profile.to_str().context("a plain path")?;
    let deadline = Instant::now() + Duration::from_secs(3);
    loop {
        let commands = fs::read_dir("/proc")?.flatten().filter_map(|it| fs::read(it.path().join("cmdline")).ok());
        let left = commands.filter(|command| String::from_utf8_lossy(command).contains(name)).count();
        if left == 0 {
            return Ok(());
        }
        if Instant::now() > deadline {
            bail!("{left} processes of the browser are left");
        }
        tokio::time::sleep(Duration::from_millis(5)).await;
    }
}
