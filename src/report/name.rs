//! Names of files that leave the phone.

use chrono::NaiveDate;

use crate::record::{Airframe, day_text};

/// "2026-03-04-veldrin-h2-example-1-record.json": the day first, so that files sort by it; letters, digits and hyphens only, whatever
/// the airframe is called. Letters of other scripts stay as they are. `what` ends in the file's ending.
#[must_use]
pub fn file_name(day: NaiveDate, airframe: &Airframe, what: &str) -> String {
    let mut name = day_text(day);
    for part in [&airframe.details.model, &airframe.details.serial] {
        let mut between = true;
        for character in part.chars().take(40) {
            if character.is_ascii_alphanumeric() || other_letter(character) {
                if between {
                    name.push('-');
                    between = false;
                }
                name.push(character.to_ascii_lowercase());
            } else {
                between = true;
            }
        }
    }
    format!("{name}-{what}")
}

/// A character from the blocks of letters outside ASCII (Latin, Greek, Cyrillic and so on, kana, ideographs, Hangul): no
/// control, punctuation or symbol block.
const fn other_letter(character: char) -> bool {
    matches!(character, '\u{c0}'..='\u{61b}' | '\u{620}'..='\u{1fff}' | '\u{3040}'..='\u{d7ff}')
        && !matches!(character, '×' | '÷')
}

#[cfg(test)]
mod tests {
    use super::other_letter;

    #[test]
    fn letters_of_other_scripts_are_told_from_marks() {
        assert!("éßŁжΩאبकあ漢한".chars().all(other_letter));
        assert!(
            "\u{202e}\u{200d}\u{ad}\u{feff}\u{61c}\u{e000}–”×÷«€→、½\u{a0}"
                .chars()
                .all(|character| !other_letter(character))
        );
    }
}
