//! Coming back to a run: when it is asked, what it says, how far back it goes and where the datum is read again. What a pause is and
//! that three steps are looked over are common practice, no source; times are RFC 3339.

mod support;

use chrono::{DateTime, FixedOffset, TimeDelta};
use support::Logbook;
use trammel::procedure::{Return, asked_once_closed, interrupted};
use uuid::Uuid;

const OWN: Uuid = Uuid::from_u128(0xD);
const OTHER: Uuid = Uuid::from_u128(0xE);

/// The mating worked as far as the pitch of the clamped pass, the datum of an earlier job read.
fn begun() -> Logbook {
    let mut book = Logbook::example(0);
    for step in ["cautions", "level-frame", "centre-line"] {
        book.confirm(step);
    }
    for slot in ["twin-left", "twin-right"] {
        book.read("twins", slot, 17.25);
    }
    book.confirm("aft-point");
    book.confirm("offer-up");
    for (slot, value) in [("direct", -2.6), ("reversed", -2.6)] {
        book.read("set/pitch", slot, value);
        book.read("set/pitch", slot, value);
    }
    book
}

fn last(book: &Logbook) -> DateTime<FixedOffset> {
    book.ledger.of(book.airframe).next_back().expect("entries").at
}

fn back(book: &Logbook, now: DateTime<FixedOffset>, closed: bool) -> Option<Return> {
    let (airframe, run) = (book.airframe(), book.fold());
    interrupted((book.procedure(), &airframe, &run), &book.ledger, OWN, now, closed)
}

fn after(book: &Logbook, minutes: i64) -> Option<Return> {
    back(book, last(book) + TimeDelta::minutes(minutes), false)
}

#[test]
fn after_ten_minutes_it_is_asked_and_before_it_is_not() {
    let book = begun();
    assert_eq!(after(&book, 9), None);
    let found = after(&book, 43).expect("a pause");
    let run = book.fold();
    let place = run.place("set/twist").expect("a step");
    assert_eq!(found.at, place);
    assert_eq!(found.words, format!("You were at step {} of {}, 43 minutes ago.", place + 1, run.steps.len()));
    assert_eq!(found.back.as_deref(), Some(run.steps[place - 3].path.as_str()));
    assert_eq!(found.over.len(), 3);
    assert_eq!(found.back_words(), format!("Go back three steps, from “{}”", found.over[0]));
    for (minutes, words) in [(61, "61 minutes ago"), (180, "3 hours ago"), (60 * 24 * 9, "9 days ago")] {
        assert!(after(&book, minutes).expect("a pause").words.ends_with(&format!(", {words}.")), "{minutes}");
    }
}

#[test]
fn an_app_that_was_closed_asks_sooner_and_a_reload_does_not() {
    let book = begun();
    assert_eq!(back(&book, last(&book) + TimeDelta::seconds(90), true), None);
    assert!(back(&book, last(&book) + TimeDelta::minutes(3), true).is_some());
}

#[test]
fn what_is_asked_once_closed_is_foretold_to_the_second() {
    let (fresh, book) = (Logbook::example(0), begun());
    let foretold = |book: &Logbook, device| asked_once_closed(book.airframe, book.fold().id, &book.ledger, device);
    assert_eq!(foretold(&fresh, OWN), None, "nothing was done yet");
    assert_eq!(foretold(&book, OTHER), None, "what another device did asks nothing of this one");
    let from = foretold(&book, OWN).expect("a time");
    assert_eq!(back(&book, from - TimeDelta::seconds(1), true), None);
    assert!(back(&book, from, true).is_some());
}

#[test]
fn midnight_and_another_time_zone_count_nothing() {
    let book = begun();
    // The last entry falls shortly before midnight at an offset where it does; read again at another.
    let (west, east) = (FixedOffset::west_opt(5 * 3600).expect("fits"), FixedOffset::east_opt(9 * 3600).expect("fits"));
    for offset in [west, east] {
        let now = (last(&book) + TimeDelta::minutes(30)).with_timezone(&offset);
        assert!(back(&book, now, false).expect("a pause").words.ends_with(", 30 minutes ago."), "{now}");
    }
    let same = (last(&book) + TimeDelta::minutes(1)).with_timezone(&east);
    assert_eq!(back(&book, same, false), None, "ten hours further east, a minute later");
}

#[test]
fn a_clock_that_was_set_back_is_said_and_nothing_is_made_up() {
    let book = begun();
    let found = back(&book, last(&book) - TimeDelta::hours(1), false).expect("a pause of no known length");
    assert!(found.words.contains("set back") && !found.words.contains("ago,"), "{}", found.words);
    assert_eq!(back(&book, last(&book) - TimeDelta::minutes(2), false), None, "a correction of the clock is no pause");
}

#[test]
fn what_another_device_wrote_is_not_being_there_and_going_on_elsewhere_is_no_pause() {
    let mut book = Logbook::example(0);
    book.device = OTHER;
    book.confirm("cautions");
    assert_eq!(after(&book, 43), None, "nobody was here with this device");

    let mut book = begun();
    let own = last(&book);
    // The other phone goes on: its entries come a second after each other.
    book.device = OTHER;
    let elsewhere = book.read("set/twist", "frame", 0.1);
    let entry = book.ledger.get(elsewhere).expect("kept").clone();
    assert_eq!(back(&book, entry.at + TimeDelta::minutes(5), false), None);
    assert!(back(&book, own + TimeDelta::minutes(43), false).is_some(), "both have stopped");
}

#[test]
fn nothing_is_asked_before_anything_was_done_and_what_is_said_is_not_work() {
    let mut book = Logbook::example(0);
    assert_eq!(after(&book, 43), None, "only begun");
    book.confirm("cautions");
    let found = after(&book, 43).expect("a pause");
    assert!(found.at > 0 && found.back.as_deref() == Some("cautions"), "{found:?}");
}

#[test]
fn a_step_that_was_left_half_read_is_where_it_stopped() {
    let mut book = begun();
    book.read("set/twist", "frame", 0.1);
    let found = after(&book, 43).expect("a pause");
    assert_eq!(Some(found.at), book.fold().place("set/twist"));
    assert_eq!(found.datum, None, "going on there is reading the frame again");
}

#[test]
fn the_mating_reads_the_roll_of_its_frame_again() {
    let mut book = begun();
    for (slot, value) in [("frame", 0.1), ("frame-reversed", 0.1), ("aft", 0.1), ("aft-reversed", 0.1)] {
        book.read("set/twist", slot, value);
    }
    let datum = after(&book, 43).expect("a pause").datum.expect("a datum");
    assert_eq!((datum.procedure.as_str(), datum.step.as_str()), ("mate-aft-fuselage", "set/twist"));
    assert_eq!(datum.words, "Read the datum again first: “Twist, set”");
}

/// A job that hangs on an earlier one reads that one's datum again; a pass that begins with its own reads its own.
#[test]
fn the_datum_of_the_pass_or_of_the_job_before_is_read_again() {
    let mut book = Logbook::example_without_run(0);
    book.begin("establish-datum", 0xC);
    for step in ["cautions", "points", "rough"] {
        book.confirm(step);
    }
    for slot in ["first", "first-turned", "second", "second-turned"] {
        book.read("set/roll", slot, 0.0);
    }
    book.begin("qualify-points", 0xF);
    book.confirm("cautions");
    book.confirm("forward-look");
    let datum = after(&book, 43).expect("a pause").datum.expect("a datum");
    assert_eq!((datum.procedure.as_str(), datum.step.as_str()), ("establish-datum", "set/roll"));

    book.begin("fin", 0x10);
    for step in ["cautions", "marks", "offer-up"] {
        book.confirm(step);
    }
    for slot in ["tail-across", "tail-across-turned"] {
        book.read("set/tail-level", slot, 0.3);
    }
    book.confirm("loop");
    let datum = after(&book, 43).expect("a pause").datum.expect("a datum");
    assert_eq!((datum.procedure.as_str(), datum.step.as_str()), ("fin", "set/tail-level"));
}
