//! Times in files: RFC 3339 with offset, and nothing looser. Days: its full-date, 2026-03-31.

use chrono::{DateTime, Datelike as _, FixedOffset, NaiveDate, SecondsFormat};
use serde::de::Error as _;
use serde::{Deserialize as _, Deserializer, Serializer};

/// With as many digits of the second as it has; `Z` for no offset.
pub(super) fn serialize<S: Serializer>(time: &DateTime<FixedOffset>, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&time.to_rfc3339_opts(SecondsFormat::AutoSi, true))
}

pub(super) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<DateTime<FixedOffset>, D::Error> {
    let text = String::deserialize(deserializer)?;
    DateTime::parse_from_rfc3339(&text).map_err(|_| D::Error::custom("a time is not as RFC 3339 writes it"))
}

/// The day that a text names as RFC 3339 writes a full-date; `None` when it is not one. (Chrono's own reader is looser: it takes
/// signs, spaces and single digits.)
#[must_use]
pub fn day(text: &str) -> Option<NaiveDate> {
    let mut parts = text.split('-').map(|part| {
        let plain = part.len() <= 4 && part.bytes().all(|digit| digit.is_ascii_digit());
        if plain { part.parse::<u32>().ok().map(|number| (part.len(), number)) } else { None }
    });
    match (parts.next()??, parts.next()??, parts.next()??, parts.next()) {
        ((4, year), (2, month), (2, day), None) => NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day),
        _ => None,
    }
}

/// A day as [`day()`] reads it.
#[must_use]
pub fn day_text(day: NaiveDate) -> String {
    format!("{:04}-{:02}-{:02}", day.year(), day.month(), day.day())
}

/// A day that may be missing.
pub(super) mod maybe_day {
    use chrono::NaiveDate;
    use serde::de::Error as _;
    use serde::{Deserialize as _, Deserializer, Serializer};

    use super::day_text;

    #[allow(clippy::ref_option, reason = "the signature that serde asks for")]
    pub(in crate::record) fn serialize<S: Serializer>(
        day: &Option<NaiveDate>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        match day {
            Some(day) => serializer.serialize_str(&day_text(*day)),
            None => serializer.serialize_none(),
        }
    }

    pub(in crate::record) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Option<NaiveDate>, D::Error> {
        let text = String::deserialize(deserializer)?;
        super::day(&text).map(Some).ok_or_else(|| D::Error::custom("a day is not as RFC 3339 writes it"))
    }
}

/// A day.
pub(crate) mod plain_day {
    use chrono::NaiveDate;
    use serde::de::Error as _;
    use serde::{Deserialize as _, Deserializer, Serializer};

    use super::day_text;

    pub(crate) fn serialize<S: Serializer>(day: &NaiveDate, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&day_text(*day))
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<NaiveDate, D::Error> {
        let text = String::deserialize(deserializer)?;
        super::day(&text).ok_or_else(|| D::Error::custom("a day is not as RFC 3339 writes it"))
    }
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, FixedOffset};
    use serde::{Deserialize, Serialize};

    use serde_json::{from_str, to_string};

    #[derive(Serialize, Deserialize)]
    struct Kept(#[serde(with = "super")] DateTime<FixedOffset>);

    #[test]
    fn a_time_is_kept_with_its_offset_and_its_parts_of_a_second() {
        for text in ["2026-03-04T19:31:00-05:00", "2026-03-04T19:31:07.250Z", "1999-12-31T23:59:59.000001+05:45"] {
            let file = format!("\"{text}\"");
            assert_eq!(from_str::<Kept>(&file).and_then(|kept| to_string(&kept)).expect("reads"), file);
        }
        for text in ["2026-03-04", "2026-03-04T19:31:00", "04.03.2026 19:31", "2026-02-30T00:00:00Z", "now"] {
            assert!(from_str::<Kept>(&format!("\"{text}\"")).is_err(), "{text}");
        }
    }

    #[test]
    fn a_day_is_kept_as_it_is_written_and_nothing_looser_is_read() {
        for text in ["2026-03-31", "0001-01-01", "2024-02-29"] {
            assert_eq!(super::day(text).map(super::day_text).as_deref(), Some(text));
        }
        for text in
            ["", "2026-02-29", "2026-3-31", "26-03-31", "+2026-03-31", "2026-03-31 ", "2026-03-31-1", "2026/03/31", "-"]
        {
            assert_eq!(super::day(text), None, "{text:?}");
        }
    }
}
