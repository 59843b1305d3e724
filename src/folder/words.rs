//! What is said of files that wait for a network and of the folder.

/// While the folder is being asked.
pub const ASKING: &str = "Asking the folder\u{2026}";

/// The tab may not write, so that it takes nothing in.
pub const OTHER_TAB: &str = "Another tab of this app is writing: it takes in what comes. Use that one.";

/// A file was put into the outbox.
#[must_use]
pub fn waits_words(name: &str) -> String {
    format!("There is no network: {name} waits in the outbox. The app says when there is one.")
}

/// What waits, in words; empty where nothing does. `back`: the network came back, and a folder is named that was not asked since.
#[must_use]
pub fn outbox_words(names: &[&str], online: bool, back: bool) -> String {
    let files = match names {
        [] => String::new(),
        [one] => format!("1 file waits to be sent: {one}."),
        [first, ..] => format!("{} files wait to be sent. The first: {first}.", names.len()),
    };
    match (files.is_empty(), online, back) {
        (true, true, true) => "The network is back: the records can be brought into step with the folder.".to_owned(),
        (true, ..) => String::new(),
        (false, false, _) => format!("{files} There is no network."),
        (false, true, true) => {
            format!("The network is back. {files} The records are brought into step with the folder at the same tap.")
        }
        (false, true, false) => format!("There is a network. {files}"),
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
