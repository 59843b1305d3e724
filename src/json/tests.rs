//! Held against `serde_json`, which reads and writes the same types.

use proptest::prelude::*;
use serde::{Deserialize, Serialize};

use super::{ReadError, read, write};

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Thing {
    name: String,
    number: f64,
    count: u32,
    #[serde(default)]
    yes: bool,
    other: Option<Box<Thing>>,
    kinds: Vec<Kind>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
enum Kind {
    Bare,
    Named(String),
    Sized { width: u8, height: f64 },
}

/// Reads part of a file and passes over the rest.
#[derive(Debug, PartialEq, Deserialize)]
struct Head {
    name: String,
}

fn thing() -> impl Strategy<Value = Thing> {
    let kind = prop_oneof![
        Just(Kind::Bare),
        any::<String>().prop_map(Kind::Named),
        (any::<u8>(), -1e6..1e6_f64).prop_map(|(width, height)| Kind::Sized { width, height }),
    ];
    let flat = (any::<String>(), -1e6..1e6_f64, any::<u32>(), any::<bool>(), prop::collection::vec(kind, 0..4));
    let flat =
        flat.prop_map(|(name, number, count, yes, kinds)| Thing { name, number, count, yes, other: None, kinds });
    (flat.clone(), prop::option::of(flat)).prop_map(|(thing, other)| Thing { other: other.map(Box::new), ..thing })
}

fn same(text: &str) -> Result<Thing, String> {
    let (ours, theirs) = (read::<Thing>(text), serde_json::from_str::<Thing>(text));
    assert_eq!(ours.is_ok(), theirs.is_ok(), "{text}\n{ours:?}\n{theirs:?}");
    if let (Ok(ours), Ok(theirs)) = (&ours, theirs) {
        // That crate without its feature for exact numbers is off by a last place.
        assert!((ours.number - theirs.number).abs() <= theirs.number.abs() * 1e-15, "{text}");
        assert_eq!((&ours.name, ours.count, ours.yes), (&theirs.name, theirs.count, theirs.yes), "{text}");
    }
    ours.map_err(|error| error.to_string())
}

proptest! {
    #[test]
    fn what_is_written_reads_back_to_the_last_bit_and_byte(thing in thing()) {
        let text = write(&thing);
        prop_assert_eq!(read::<Thing>(&text), Ok(thing.clone()));
        prop_assert_eq!(&write(&read::<Thing>(&text).expect("reads")), &text);
        prop_assert!(same(&text).is_ok());
        let spread = serde_json::to_string_pretty(&thing).expect("writes");
        prop_assert_eq!(read::<Thing>(&spread), Ok(thing.clone()));
        prop_assert_eq!(read::<Head>(&spread).expect("passes over the rest").name, thing.name);
    }

    /// One byte of a sound text changed, or everything after it cut off.
    #[test]
    fn damaged_texts_are_refused_where_the_other_reader_refuses_them(
        thing in thing(), at in any::<prop::sample::Index>(), put in "[\"\\\\{}\\[\\],:a-f0-9 .eE+\\-\u{1}\u{e9}]?",
    ) {
        let text = serde_json::to_string_pretty(&thing).expect("writes");
        let at = at.index(text.len());
        prop_assume!(text.is_char_boundary(at) && text.is_char_boundary(at + 1));
        let _ = same(&format!("{}{put}{}", &text[..at], &text[at + 1..]));
        prop_assert_eq!(read::<Thing>(&text[..at]).map_err(|error| error.is_cut_short()), Err(true));
    }
}

#[test]
fn escapes_numbers_and_spaces_read_as_the_standard_says() {
    let with = |name: &str, number: &str| {
        format!(r#"{{"name":"{name}","number":{number},"count":1,"other":null,"kinds":[]}}"#)
    };
    for name in [r#"\"\\\/\b\f\n\r\t"#, r"\u00e9\u20AC", r"\ud83d\ude00", "é€😀", r"\u0000", "\u{7f}"] {
        assert!(same(&with(name, "1")).is_ok(), "{name}");
    }
    for name in
        [r"\x", r"\u12", r"\u12G4", r"\u+123", r"\ud83d", r"\ude00", r"\ud83d\u0041", "\n", "\u{1f}", r"\", r"\u00é"]
    {
        assert!(same(&with(name, "1")).is_err(), "{name}");
    }
    for number in ["0", "-0", "0.5", "-1.25e2", "1E+2", "1e-2", "123456789012345678901234567890"] {
        assert!(same(&with("x", number)).is_ok(), "{number}");
    }
    for number in ["", "-", "01", "-01", ".5", "5.", "+1", "1e", "1e+", "0x1", "NaN", "1e999", "\"1\"", "null", "1,"] {
        assert!(same(&with("x", number)).is_err(), "{number}");
    }
}

#[test]
fn each_fault_is_named_with_its_line() {
    let fault = |text: &str| read::<Thing>(text).map_err(|error| error.to_string()).expect_err(text);
    assert_eq!(fault("{\n\"name\": 5"), "expected a text (line 2)");
    assert_eq!(
        fault("{\n\n\"nam\":"),
        "unknown field `nam`, expected one of `name`, `number`, `count`, `yes`, `other`, `kinds` (line 3)"
    );
    assert_eq!(fault(r#"{"name":"","name":"#), "duplicate field `name` (line 1)");
    assert_eq!(fault("{}"), "missing field `name` (line 1)");
    assert_eq!(fault("[]"), "expected `{` (line 1)");
    assert_eq!(fault("{"), "the text ends in the middle (line 1)");
    let kind = |text: &str| read::<Kind>(text).map_err(|error: ReadError| error.to_string());
    assert_eq!(kind(r#" "bare" "#), Ok(Kind::Bare));
    for odd in [r#"{"bare":null}"#, r#""named""#, r#"{"named":"x","bare":1}"#, r#""bare" 1"#, r#"{"sized":[1,2]}"#] {
        assert!(kind(odd).is_err(), "{odd}");
    }
    assert!(read::<Head>(&format!(r#"{{"name":"","deep":{}"#, "[".repeat(100_000))).is_err(), "no end of stack");
}
