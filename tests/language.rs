//! Every catalogue holds every text of the built-in procedures, says it with the same keys in braces, and holds nothing else.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use trammel::procedure::worded_texts;

fn catalogue(code: &str, file: &str) -> BTreeMap<String, String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("src/language/catalogue/{code}/{file}.po"));
    let catalogue = polib::po_file::parse(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let said = catalogue.messages().filter(|message| message.is_translated());
    said.map(|message| (message.msgid().to_owned(), message.msgstr().unwrap().to_owned())).collect()
}

fn keys(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(key, _)| key).collect()
}

#[test]
fn every_text_of_the_procedures_is_there_in_every_language() {
    let texts = worded_texts();
    assert!(texts.len() > 2500, "{}", texts.len());
    for code in ["de", "fr", "es"] {
        let said = catalogue(code, "procedures");
        let missing: Vec<&String> = texts.iter().filter(|text| !said.contains_key(*text)).collect();
        assert!(missing.is_empty(), "{code}: {} missing: {missing:#?}", missing.len());
        for text in &texts {
            assert_eq!(keys(text), keys(&said[text]), "{code}: {text}");
        }
        let known: BTreeSet<&String> = texts.iter().collect();
        let idle: Vec<&String> = said.keys().filter(|text| !known.contains(text)).collect();
        assert!(idle.is_empty(), "{code}: {} belong to nothing: {idle:#?}", idle.len());
    }
}
