//! The work log: how long what was worked on, by day, from the entries and from what was written down by hand (docs/decisions/0018).

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDate, Timelike};
use uuid::Uuid;

use super::csv_out::{harmless, procedures, row};
use super::lines::AllTitles;
use crate::language::words;
use crate::record::{About, Airframe, AirframeId, Body, Entry, Ledger, MAX_TEXT, RunId, TimeSpent, day, day_text};

/// Longer than this between two entries, in minutes, is a pause and not counted.
pub const LONGEST_PAUSE: i64 = 30;

/// Most minutes that can be written down by hand for one day.
pub const LONGEST_DAY: u32 = 24 * 60;

/// The columns, in order. `day` is the day on the clock of the phone; `step` is its path, `title` what it is called; `source` is
/// `entries` where the time was worked out, `by hand` where somebody wrote it down; `what` is what they wrote.
pub const WORK_COLUMNS: [&str; 10] =
    ["day", "model", "serial", "procedure", "step", "title", "who", "minutes", "source", "what"];

/// Time that one person spent on one step on one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// The day.
    pub day: NaiveDate,
    /// The run, where it was spent on one.
    pub run: Option<RunId>,
    /// The step's path; empty for none.
    pub step: String,
    /// The procedure's title and the step's, as a person reads them.
    pub title: String,
    /// Who.
    pub who: String,
    /// How long, in whole minutes, so rounded that a person's day adds up.
    pub minutes: u32,
    /// What they wrote of it; `None` where it was worked out from the entries.
    pub by_hand: Option<String>,
}

/// The work on an airframe by day: first what the entries tell, each step in the order in which it was come to, then what was written
/// down by hand. What was struck out is left away.
///
/// What the entries tell: an entry of a run took the time since the one before it that the same phone wrote in the airframe's runs;
/// more than [`LONGEST_PAUSE`] is a pause, a clock that went back counts for nothing, and what runs over midnight belongs to both days.
/// Remarks of somebody who was not there are not work.
#[must_use]
pub fn work_log(ledger: &Ledger, airframe: AirframeId) -> Vec<Worked> {
    let titles = AllTitles::of(ledger, airframe);
    let title = |about: &About| titles.of_step(about);
    let struck = ledger.struck(airframe);
    let mut before: BTreeMap<Uuid, DateTime<FixedOffset>> = BTreeMap::new();
    let mut days: BTreeMap<NaiveDate, Day> = BTreeMap::new();
    for entry in ledger.of(airframe).filter(|entry| struck.get(entry.id).is_none()) {
        if let Body::TimeSpent(spent) = &entry.body {
            days.entry(spent.day).or_default().by_hand.push(by_hand(spent, entry, title(&spent.about)));
            continue;
        }
        let Some(about) = worked_on(entry) else { continue };
        let since = before.insert(entry.device, entry.at);
        for (day, seconds) in since.into_iter().flat_map(|since| spent_between(since, entry.at)) {
            days.entry(day).or_default().add(&about, &entry.by, seconds);
        }
    }
    days.into_iter().flat_map(|(day, of)| of.rows(day, title)).collect()
}

/// The run and step that an entry was work on.
fn worked_on(entry: &Entry) -> Option<About> {
    let step = match &entry.body {
        Body::RemarkMade(_) => return None,
        Body::ReadingTaken(reading) => Some(&reading.step),
        Body::AdjusterMoved(moved) => Some(&moved.step),
        Body::HolesLaidOut(laid) => Some(&laid.step),
        Body::HoleMarked(marked) => Some(&marked.step),
        Body::StepConfirmed { step, .. } | Body::Counted { step, .. } | Body::HoldSigned { step, .. } => Some(step),
        _ => entry.about().and_then(|about| about.step.as_ref()),
    };
    Some(About { run: Some(entry.run()?), step: step.cloned(), entry: None })
}

/// Seconds between two moments by the day on the later one's clock; nothing when it is a pause or runs backwards.
fn spent_between(since: DateTime<FixedOffset>, at: DateTime<FixedOffset>) -> Vec<(NaiveDate, i64)> {
    let seconds = (at - since).num_seconds();
    if !(1..=LONGEST_PAUSE * 60).contains(&seconds) {
        return Vec::new();
    }
    let today = at.date_naive();
    let after = seconds.min(i64::from(at.num_seconds_from_midnight()));
    let yesterday = today.pred_opt().filter(|_| seconds > after).map(|day| (day, seconds - after));
    yesterday.into_iter().chain([(today, after)]).collect()
}

fn by_hand(spent: &TimeSpent, entry: &Entry, title: String) -> Worked {
    Worked {
        day: spent.day,
        run: spent.about.run,
        step: spent.about.step.clone().unwrap_or_default(),
        title,
        who: entry.by.clone(),
        minutes: spent.minutes,
        by_hand: Some(spent.what.clone()),
    }
}

/// One day: who spent how many seconds on what, in the order in which it was come to, and what was written down by hand.
#[derive(Default)]
struct Day {
    seconds: Vec<(About, String, i64)>,
    by_hand: Vec<Worked>,
}

impl Day {
    fn add(&mut self, about: &About, who: &str, seconds: i64) {
        match self.seconds.iter_mut().rfind(|(of, by, _)| of == about && by == who) {
            Some((.., sum)) => *sum += seconds,
            None => self.seconds.push((about.clone(), who.to_owned(), seconds)),
        }
    }

    fn rows(self, day: NaiveDate, title: impl Fn(&About) -> String) -> Vec<Worked> {
        // Each person's seconds so far: a row is what the whole minutes grow by.
        let mut so_far: Vec<(String, i64)> = Vec::new();
        let mut rows = Vec::new();
        for (about, who, seconds) in self.seconds {
            let known = so_far.iter().position(|(name, _)| *name == who).unwrap_or_else(|| {
                so_far.push((who.clone(), 0));
                so_far.len() - 1
            });
            let sum = &mut so_far[known].1;
            let before = whole_minutes(*sum);
            *sum += seconds;
            let minutes = u32::try_from(whole_minutes(*sum) - before).unwrap_or_default();
            if minutes > 0 {
                let (title, step) = (title(&about), about.step.unwrap_or_default());
                rows.push(Worked { day, run: about.run, step, title, who, minutes, by_hand: None });
            }
        }
        rows.extend(self.by_hand);
        rows
    }
}

/// Rounded to the nearest, a half upwards.
const fn whole_minutes(seconds: i64) -> i64 {
    (seconds + 30) / 60
}

/// The days of a work log, the first first, each with its rows.
#[must_use]
pub fn work_days(rows: Vec<Worked>) -> Vec<(NaiveDate, Vec<Worked>)> {
    let mut days: Vec<(NaiveDate, Vec<Worked>)> = Vec::new();
    for row in rows {
        match days.last_mut().filter(|(day, _)| *day == row.day) {
            Some((_, rows)) => rows.push(row),
            None => days.push((row.day, vec![row])),
        }
    }
    days
}

/// The minutes of some rows together, in words: "7 h 05 min".
#[must_use]
pub fn work_sum(rows: &[Worked]) -> String {
    time_words(rows.iter().map(|row| u64::from(row.minutes)).sum())
}

/// "7 h 05 min", "45 min".
#[must_use]
pub fn time_words(minutes: u64) -> String {
    match minutes / 60 {
        0 => format!("{minutes} min"),
        hours => format!("{hours} h {:02} min", minutes % 60),
    }
}

/// Time as it is written down by hand: the day as 2026-03-04 and whole minutes.
///
/// # Errors
/// What cannot be meant, in words.
pub fn time_spent(about: About, day_typed: &str, minutes: &str, what: &str) -> Result<TimeSpent, &'static str> {
    let Some(day) = day(day_typed.trim()) else { return Err(words!("Write the day as 2026-03-04: year, month, day.")) };
    let minutes = minutes.trim().parse::<u32>().ok().filter(|minutes| (1..=LONGEST_DAY).contains(minutes));
    let Some(minutes) = minutes else { return Err(words!("How many minutes: a whole number from 1 to 1440.")) };
    let what = what.trim();
    if what.is_empty() || what.len() > MAX_TEXT {
        return Err(words!("Say in a few words what was done."));
    }
    Ok(TimeSpent { about, day, minutes, what: what.to_owned() })
}

/// The work log for a spreadsheet: RFC 4180, CRLF, every formula made harmless.
#[must_use]
pub fn work_log_csv(airframe: &Airframe, ledger: &Ledger) -> String {
    let mut text = row(&WORK_COLUMNS);
    let procedures = procedures(airframe);
    for worked in work_log(ledger, airframe.id) {
        let procedure = worked.run.and_then(|run| procedures.get(&run));
        text.push_str(&row(&[
            day_text(worked.day),
            harmless(&airframe.details.model),
            harmless(&airframe.details.serial),
            harmless(procedure.map_or("", |procedure| procedure.as_str())),
            harmless(&worked.step),
            harmless(&worked.title),
            harmless(&worked.who),
            worked.minutes.to_string(),
            if worked.by_hand.is_some() { "by hand" } else { "entries" }.to_owned(),
            harmless(&worked.by_hand.unwrap_or_default()),
        ]));
    }
    text
}
