//! The invented example airframes. Their numbers belong to no real aircraft and are never offered to one: an example is made
//! as an airframe of its own, marked as invented.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::procedure::sheet_items;
use crate::procedure::specify::{SpecDraft, specify};
use crate::record::{AirframeDetails, SpecValue, from_json};

/// An invented airframe with a filled-in rigging specification.
#[derive(Clone, Debug, PartialEq)]
pub struct ExampleAirframe {
    /// Its details, marked as invented.
    pub details: AirframeDetails,
    /// Its invented sheet.
    pub source: String,
    /// Its specification, in the procedures' order.
    pub specification: Vec<(String, SpecValue)>,
}

#[derive(Deserialize)]
struct File {
    details: AirframeDetails,
    source: String,
    specification: Vec<Fields>,
}

#[derive(Deserialize)]
struct Fields {
    key: String,
    #[serde(default)]
    number: String,
    #[serde(default)]
    tolerance: String,
    #[serde(default)]
    words: String,
}

fn files() -> Vec<File> {
    from_json(include_str!("library/examples.json")).unwrap_or_default()
}

/// The details of each of [`examples`], in their order: all that a list shows, without reading a procedure.
#[must_use]
pub fn example_details() -> Vec<AirframeDetails> {
    files().into_iter().map(|file| file.details).collect()
}

/// The invented airframes.
#[must_use]
pub fn examples() -> &'static [ExampleAirframe] {
    static READ: OnceLock<Vec<ExampleAirframe>> = OnceLock::new();
    READ.get_or_init(|| files().into_iter().map(read).collect())
}

fn read(file: File) -> ExampleAirframe {
    let specification = sheet_items()
        .filter_map(|item| {
            let fields = file.specification.iter().find(|fields| fields.key == item.key)?;
            let Fields { number, tolerance, words, .. } = fields;
            let draft = SpecDraft { number: number.clone(), tolerance: tolerance.clone(), words: words.clone() };
            Some((item.key.clone(), specify(item, &draft, file.details.units).ok()?))
        })
        .collect();
    ExampleAirframe { details: file.details, source: file.source, specification }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::specify::draft_of;

    #[test]
    fn every_number_of_the_examples_is_read_and_gives_itself_back() {
        let files: Vec<File> = serde_json::from_str(include_str!("library/examples.json")).expect("the file reads");
        assert_eq!(examples().len(), files.len());
        assert!(examples().iter().map(|example| &example.details).eq(&example_details()));
        for (file, example) in files.iter().zip(examples()) {
            assert!(example.details.invented, "{}", example.details.model);
            let kept = |fields: &&Fields| example.specification.iter().all(|(key, _)| *key != fields.key);
            let lost: Vec<&str> = file.specification.iter().filter(kept).map(|fields| fields.key.as_str()).collect();
            assert!(lost.is_empty(), "{}: {lost:?} not taken", example.details.model);
            assert_eq!(file.specification.len(), example.specification.len(), "{}", example.details.model);
            for (key, value) in &example.specification {
                let item = sheet_items().find(|item| item.key == *key).expect("a known item");
                let again = specify(item, &draft_of(item, value), example.details.units).expect("reads again");
                assert_eq!(again, *value, "{key}");
            }
        }
    }
}
