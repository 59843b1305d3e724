//! Times in files: RFC 3339 with offset, and nothing looser.

use chrono::{DateTime, FixedOffset, SecondsFormat};
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
}
