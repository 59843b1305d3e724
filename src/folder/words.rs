//! What is said of files that wait for a network and of the folder.

use crate::language::{tr, words};

/// While the folder is being asked.
#[must_use]
pub fn asking() -> &'static str {
    words!("Asking the folder\u{2026}")
}

/// The tab may not write, so that it takes nothing in.
#[must_use]
pub fn other_tab() -> &'static str {
    words!("Another tab of this app is writing: it takes in what comes. Use that one.")
}

/// A file was put into the outbox.
#[must_use]
pub fn waits_words(name: &str) -> String {
    tr!("There is no network: {file} waits in the outbox. The app says when there is one.", file = name)
}

/// What waits, in words; empty where nothing does. `back`: the network came back, and a folder is named that was not asked since.
#[must_use]
pub fn outbox_words(names: &[&str], online: bool, back: bool) -> String {
    let files = match names {
        [] => String::new(),
        [file, ..] => tr!(
            "1 file waits to be sent: {file}." | "{n} files wait to be sent. The first: {file}." % names.len(),
            file
        ),
    };
    match (files.is_empty(), online, back) {
        (true, true, true) => tr!("The network is back: the records can be brought into step with the folder."),
        (true, ..) => String::new(),
        (false, false, _) => tr!("{files} There is no network.", files),
        (false, true, true) => {
            tr!(
                "The network is back. {files} The records are brought into step with the folder at the same tap.",
                files
            )
        }
        (false, true, false) => tr!("There is a network. {files}", files),
    }
}

#[cfg(test)]
mod tests {
    use super::outbox_words;

    #[test]
    fn what_waits_is_said_and_nothing_else() {
        assert_eq!(outbox_words(&[], true, false), "");
        assert_eq!(outbox_words(&[], false, true), "");
        assert!(outbox_words(&[], true, true).starts_with("The network is back"));
        assert_eq!(outbox_words(&["a.json"], false, false), "1 file waits to be sent: a.json. There is no network.");
        let two = outbox_words(&["a.json", "b.csv"], true, true);
        assert!(two.starts_with("The network is back. 2 files wait to be sent. The first: a.json."), "{two}");
    }
}
