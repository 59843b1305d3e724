//! The work log by day, from entries whose times are written out here. The sums are this file's own arithmetic; times with offsets are
//! read by the chrono crate (RFC 3339).

mod support;

use chrono::DateTime;
use support::Logbook;
use trammel::record::{About, Body, Entry, EntryId, RunId, TimeSpent, day, day_text};
use trammel::report::{WORK_COLUMNS, Worked, time_spent, time_words, work_days, work_log, work_log_csv, work_sum};
use uuid::Uuid;

/// Writes entries at times that are said.
struct Clock {
    book: Logbook,
    count: u128,
    device: u128,
}

impl Clock {
    fn new() -> Self {
        Self { book: Logbook::sheet_only(0), count: 0, device: 1 }
    }

    /// The clock of a run that was begun at a time.
    fn begun(at: &str) -> Self {
        let mut clock = Self::new();
        let (run, procedure) = (clock.book.run, "mate-aft-fuselage".to_owned());
        clock.put(at, Body::RunStarted { run, procedure, version: clock.book.procedure().version, file: None });
        clock
    }

    fn put(&mut self, at: &str, body: Body) -> EntryId {
        self.count += 1;
        let id = EntryId(Uuid::from_u128(0x0199_9999_9999_7000_8000_0000_0000_0000 + self.count));
        let (airframe, by, device) = (self.book.airframe, self.book.by.clone(), Uuid::from_u128(self.device));
        let at = DateTime::parse_from_rfc3339(at).expect("a time");
        self.book.ledger.merge([Entry { id, airframe, at, by, device, body, seal: None }]);
        id
    }

    fn done(&mut self, at: &str, step: &str) -> EntryId {
        self.put(at, Body::StepConfirmed { run: self.book.run, step: step.to_owned() })
    }

    /// Day, step, who, minutes.
    fn rows(&self) -> Vec<(String, String, String, u32)> {
        let row = |row: Worked| (day_text(row.day), row.step, row.who, row.minutes);
        work_log(&self.book.ledger, self.book.airframe).into_iter().map(row).collect()
    }
}

fn row(day: &str, step: &str, who: &str, minutes: u32) -> (String, String, String, u32) {
    (day.to_owned(), step.to_owned(), who.to_owned(), minutes)
}

#[test]
fn a_step_takes_the_time_since_the_entry_before_it() {
    let mut clock = Clock::begun("2026-03-04T19:00:00+01:00");
    clock.done("2026-03-04T19:05:00+01:00", "cautions");
    clock.done("2026-03-04T19:17:00+01:00", "level-frame");
    clock.done("2026-03-04T19:20:00+01:00", "centre-line");
    clock.done("2026-03-04T19:24:00+01:00", "level-frame");
    let expected = [
        row("2026-03-04", "cautions", "A. Builder", 5),
        row("2026-03-04", "level-frame", "A. Builder", 16),
        row("2026-03-04", "centre-line", "A. Builder", 3),
    ];
    assert_eq!(clock.rows(), expected);
    let rows = work_log(&clock.book.ledger, clock.book.airframe);
    assert_eq!(rows[1].title, "Mate the aft fuselage to the forward frame: Level and hold the frame");
    assert_eq!(work_sum(&rows), "24 min");
}

#[test]
fn half_an_hour_without_an_entry_is_counted_and_a_second_more_is_a_pause() {
    let mut clock = Clock::begun("2026-03-04T19:00:00Z");
    clock.done("2026-03-04T19:30:00Z", "cautions");
    clock.done("2026-03-04T20:00:01Z", "level-frame");
    clock.done("2026-03-04T20:02:01Z", "centre-line");
    let expected = [row("2026-03-04", "cautions", "A. Builder", 30), row("2026-03-04", "centre-line", "A. Builder", 2)];
    assert_eq!(clock.rows(), expected);
}

#[test]
fn what_runs_over_midnight_belongs_to_both_days() {
    let mut clock = Clock::begun("2026-12-31T23:50:00+01:00");
    clock.done("2027-01-01T00:07:00+01:00", "cautions");
    let expected = [row("2026-12-31", "cautions", "A. Builder", 10), row("2027-01-01", "cautions", "A. Builder", 7)];
    assert_eq!(clock.rows(), expected);
    let days = work_days(work_log(&clock.book.ledger, clock.book.airframe));
    assert_eq!(days.iter().map(|(_, rows)| work_sum(rows)).collect::<Vec<_>>(), ["10 min", "7 min"]);
}

#[test]
fn an_hour_that_the_clocks_leap_is_not_worked() {
    // Central Europe, 2026-03-29: 01:59:59 +01:00 is followed by 03:00:00 +02:00. In autumn, 2026-10-25, the other way.
    let mut clock = Clock::begun("2026-03-29T01:55:00+01:00");
    clock.done("2026-03-29T03:05:00+02:00", "cautions");
    assert_eq!(clock.rows(), [row("2026-03-29", "cautions", "A. Builder", 10)]);
    let mut clock = Clock::begun("2026-10-25T02:55:00+02:00");
    clock.done("2026-10-25T02:05:00+01:00", "cautions");
    assert_eq!(clock.rows(), [row("2026-10-25", "cautions", "A. Builder", 10)]);
}

#[test]
fn a_clock_that_went_back_counts_for_nothing_and_the_next_entry_counts_from_there() {
    let mut clock = Clock::begun("2026-03-04T19:00:00Z");
    clock.done("2026-03-04T18:20:00Z", "cautions");
    clock.done("2026-03-04T18:26:00Z", "level-frame");
    assert_eq!(clock.rows(), [row("2026-03-04", "level-frame", "A. Builder", 6)]);
}

#[test]
fn two_phones_are_two_people_at_work_and_each_step_is_whose_hands_it_was_in() {
    let mut clock = Clock::begun("2026-03-04T19:00:00Z");
    clock.device = 2;
    clock.book.by = "B. Helper".to_owned();
    clock.done("2026-03-04T19:01:00Z", "cautions");
    clock.device = 1;
    clock.book.by = "A. Builder".to_owned();
    clock.done("2026-03-04T19:10:00Z", "cautions");
    clock.device = 2;
    clock.book.by = "B. Helper".to_owned();
    clock.done("2026-03-04T19:13:00Z", "level-frame");
    let expected = [row("2026-03-04", "cautions", "A. Builder", 10), row("2026-03-04", "level-frame", "B. Helper", 12)];
    assert_eq!(clock.rows(), expected);
}

#[test]
fn seconds_add_up_over_a_day() {
    // Ten steps of 25 s are 4 min 10 s: not nothing, and not ten minutes.
    let mut clock = Clock::begun("2026-03-04T19:00:00Z");
    for (place, step) in ["a", "b", "c", "d", "e", "f", "g", "h", "i", "j"].into_iter().enumerate() {
        let seconds = (place + 1) * 25;
        clock.done(&format!("2026-03-04T19:{:02}:{:02}Z", seconds / 60, seconds % 60), step);
    }
    let rows = work_log(&clock.book.ledger, clock.book.airframe);
    assert_eq!(rows.iter().map(|row| row.minutes).sum::<u32>(), 4);
    assert!(rows.iter().all(|row| row.minutes <= 1));
}

#[test]
fn what_was_written_down_by_hand_is_added_and_what_was_struck_out_is_not() {
    let mut clock = Clock::begun("2026-03-04T19:00:00Z");
    let spent = |run: Option<RunId>, minutes| {
        let about = About { run, step: None, entry: None };
        let day = day("2026-03-01").expect("a day");
        Body::TimeSpent(TimeSpent { about, day, minutes, what: "=Cleaned the jig, \"all\" of it".to_owned() })
    };
    let run = clock.book.run;
    clock.put("2026-03-04T19:01:00Z", spent(Some(run), 45));
    let wrong = clock.put("2026-03-04T19:02:00Z", spent(None, 450));
    let struck = clock.done("2026-03-04T19:03:00Z", "cautions");
    clock.done("2026-03-04T19:05:00Z", "level-frame");
    for entry in [wrong, struck] {
        clock.put("2026-03-04T19:06:00Z", Body::Struck { entry, reason: "a mistake".to_owned() });
    }
    let expected = [row("2026-03-01", "", "A. Builder", 45), row("2026-03-04", "level-frame", "A. Builder", 5)];
    assert_eq!(clock.rows(), expected, "what is written down by hand is no step on the way");

    let text = work_log_csv(&clock.book.airframe(), &clock.book.ledger);
    let rows: Vec<&str> = text.strip_suffix("\r\n").expect("RFC 4180: CRLF").split("\r\n").collect();
    assert_eq!(rows.len(), 3, "{text}");
    assert_eq!(rows[0], WORK_COLUMNS.join(","));
    // RFC 4180, section 2: what holds a comma or a quote is quoted, quotes inside doubled. OWASP's page on CSV injection: an apostrophe
    // before a leading sign of a formula.
    assert!(rows[1].starts_with("2026-03-01,") && rows[1].contains(",mate-aft-fuselage v"), "{}", rows[1]);
    assert!(rows[1].ends_with(",A. Builder,45,by hand,\"'=Cleaned the jig, \"\"all\"\" of it\""), "{}", rows[1]);
    assert!(rows[2].ends_with(",A. Builder,5,entries,"), "{}", rows[2]);
}

#[test]
fn time_that_cannot_be_meant_is_refused() {
    let spent = |day: &str, minutes: &str, what: &str| time_spent(About::default(), day, minutes, what);
    for minutes in ["", "0", "1441", "-5", "half an hour", "4294967296"] {
        assert!(spent("2026-03-04", minutes, "Cleaned").is_err_and(|why| why.contains("1440")), "{minutes}");
    }
    for day in ["", "4 March", "2026-02-30", "04.03.2026"] {
        assert!(spent(day, "10", "Cleaned").is_err_and(|why| why.contains("2026-03-04")), "{day}");
    }
    assert!(spent("2026-03-04", "10", "  ").is_err());
    let good = spent(" 2026-03-04 ", " 1440 ", " Cleaned ").expect("time");
    assert_eq!((day_text(good.day), good.minutes, good.what), ("2026-03-04".to_owned(), 1440, "Cleaned".to_owned()));
}

#[test]
fn minutes_are_said_in_hours() {
    let said: Vec<String> = [0, 59, 60, 65, 1_505].into_iter().map(time_words).collect();
    assert_eq!(said, ["0 min", "59 min", "1 h 00 min", "1 h 05 min", "25 h 05 min"]);
}
