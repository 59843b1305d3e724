//! The sentences of the code that a catalogue has to hold, found in its tokens: what stands in `tr!` and `words!`, and in the app every
//! literal that reads like words, since a page looks its literals up (docs/decisions/0026); and the words of the figures' file.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};
use proc_macro2::{Delimiter, Group, TokenStream, TokenTree};

use crate::project;

/// A sentence: its English words, and those for more than one where a number decides.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Sentence {
    pub(crate) english: String,
    pub(crate) plural: Option<String>,
}

/// What the app's literals say to the browser or to its makers, and not to a person.
const NOT_SAID: [&str; 8] =
    ["Authorization", "Content-Type", "Depth", "Destination", "If-Match", "If-None-Match", "Overwrite", "Trammel"];

/// The figures beside steps: a heading `= name height title`, and lines that draw (src/sketch/figure.rs).
const FIGURES: &str = "src/sketch/figures.txt";

/// Macros whose own text is not looked up; what is said inside them is.
const PLAIN: [&str; 13] = [
    "assert",
    "assert_eq",
    "concat",
    "debug_assert",
    "env",
    "format",
    "include_str",
    "log",
    "matches",
    "panic",
    "unreachable",
    "write",
    "writeln",
];

/// Every sentence, each with the file that says it first, below `src/`.
///
/// # Errors
/// When a file cannot be read.
pub(crate) fn sentences() -> Result<BTreeMap<Sentence, String>> {
    let root = project::root();
    let mut found = BTreeMap::new();
    for path in sources(&root.join("src"))? {
        let name = path.strip_prefix(&root).unwrap_or(&path).to_string_lossy().into_owned();
        let text = fs::read_to_string(&path)?;
        for sentence in of_source(&name, &text).with_context(|| name.clone())? {
            found.entry(sentence).or_insert_with(|| name.clone());
        }
    }
    for english in of_figures(&fs::read_to_string(root.join(FIGURES))?) {
        found.entry(Sentence { english, plural: None }).or_insert_with(|| FIGURES.to_owned());
    }
    Ok(found)
}

/// Prints them: the file, the sentence, and what is said of more than one after a bar.
///
/// # Errors
/// When a file cannot be read.
pub(crate) fn print() -> Result<()> {
    let mut lines: Vec<(String, Sentence)> =
        sentences()?.into_iter().map(|(sentence, file)| (file, sentence)).collect();
    lines.sort();
    for (file, Sentence { english, plural }) in lines {
        let plural = plural.map(|plural| format!("\t{plural}")).unwrap_or_default();
        println!("{file}\t{}{}", english.replace('\n', "\\n"), plural.replace('\n', "\\n"));
    }
    Ok(())
}

fn sources(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for path in fs::read_dir(&folder)?.flatten().map(|entry| entry.path()) {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            if path.is_dir() && name != "tests" {
                folders.push(path);
            } else if name.ends_with(".rs") && name != "tests.rs" && !name.ends_with("_tests.rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}

/// What the figures' file says: each figure's name as a choice offers it, its title, and what is lettered into it.
fn of_figures(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in text.lines() {
        if let Some(heading) = line.strip_prefix("= ") {
            let mut parts = heading.splitn(3, ' ');
            let name = parts.next().unwrap_or_default().replace('-', " ");
            let (first, rest) = name.split_at(name.len().min(1));
            found.push(first.to_ascii_uppercase() + rest);
            found.extend(parts.nth(1).map(str::to_owned));
        } else {
            let parts = line.split(' ').skip_while(|part| part.starts_with(['?', '@', '%']));
            let parts: Vec<&str> = parts.collect();
            if let ["text" | "name", _, _, _, words @ ..] = parts.as_slice() {
                let words = words.join(" ");
                // Numbers are lettered too.
                found.extend(Some(words).filter(|words| words.contains(char::is_alphabetic)));
            }
        }
    }
    found
}

fn of_source(name: &str, text: &str) -> Result<Vec<Sentence>> {
    let tokens: TokenStream = text.parse().map_err(|error| anyhow!("{error}"))?;
    let mut walk =
        Walk { app: name.starts_with("src/app/"), browser: name.starts_with("src/app/browser/"), found: Vec::new() };
    walk.stream(tokens);
    Ok(walk.found)
}

struct Walk {
    app: bool,
    browser: bool,
    found: Vec<Sentence>,
}

impl Walk {
    fn stream(&mut self, tokens: TokenStream) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut at = 0;
        while let Some(token) = tokens.get(at) {
            at += 1;
            match token {
                TokenTree::Punct(mark) if mark.as_char() == '#' => at = self.attribute(&tokens, at),
                TokenTree::Ident(name) => {
                    let name = name.to_string();
                    let called = if matches!(tokens.get(at), Some(TokenTree::Punct(mark)) if mark.as_char() == '!') {
                        at + 1
                    } else {
                        at
                    };
                    let Some(TokenTree::Group(group)) = tokens.get(called) else { continue };
                    let macro_call = called > at;
                    match name.as_str() {
                        "macro_rules" => {}
                        "tr" | "words" if macro_call => self.said(group),
                        "expect" if !macro_call => {}
                        _ if macro_call && PLAIN.contains(&name.as_str()) => self.without_literals(group),
                        _ => continue,
                    }
                    at = called + 1;
                }
                TokenTree::Group(group) => self.stream(group.stream()),
                TokenTree::Literal(literal) => {
                    if let Some(text) = text_of(&literal.to_string()).filter(|text| self.is_said(text)) {
                        self.found.push(Sentence { english: text, plural: None });
                    }
                }
                TokenTree::Punct(_) => {}
            }
        }
    }

    /// Steps over an attribute, and over the whole of what is there for tests alone.
    fn attribute(&mut self, tokens: &[TokenTree], mut at: usize) -> usize {
        if matches!(tokens.get(at), Some(TokenTree::Punct(mark)) if mark.as_char() == '!') {
            at += 1;
        }
        let Some(TokenTree::Group(group)) = tokens.get(at) else { return at };
        at += 1;
        if group.to_string().replace(' ', "") == "[cfg(test)]" {
            while let Some(token) = tokens.get(at) {
                at += 1;
                match token {
                    TokenTree::Group(body) if body.delimiter() == Delimiter::Brace => break,
                    TokenTree::Punct(mark) if mark.as_char() == ';' => break,
                    _ => {}
                }
            }
        }
        at
    }

    /// `"…"`, `"…", name = value`, `"one" | "many" % n`.
    fn said(&mut self, group: &Group) {
        let tokens: Vec<TokenTree> = group.stream().into_iter().collect();
        let literal = |at: usize| match tokens.get(at) {
            Some(TokenTree::Literal(literal)) => text_of(&literal.to_string()),
            _ => None,
        };
        let Some(english) = literal(0) else { return self.stream(group.stream()) };
        let counted = matches!(tokens.get(1), Some(TokenTree::Punct(mark)) if mark.as_char() == '|');
        let plural = if counted { literal(2) } else { None };
        self.found.push(Sentence { english, plural });
        let rest = tokens.into_iter().skip(if counted { 3 } else { 1 });
        self.without_literals_of(rest.collect());
    }

    fn without_literals(&mut self, group: &Group) {
        self.without_literals_of(group.stream());
    }

    fn without_literals_of(&mut self, tokens: TokenStream) {
        self.stream(tokens.into_iter().filter(|token| !matches!(token, TokenTree::Literal(_))).collect());
    }

    /// Whether a literal of the app reads like words.
    fn is_said(&self, text: &str) -> bool {
        if !self.app || NOT_SAID.contains(&text) {
            return false;
        }
        let letters: Vec<char> = text.chars().filter(|c| c.is_alphabetic()).collect();
        let begins_large =
            letters.first().is_some_and(|c| c.is_uppercase()) && letters.get(1).is_none_or(|c| c.is_lowercase());
        let spaced = text.split_whitespace().count() > 1;
        let sentence = spaced && (text.ends_with(['.', '?', '!', '…']) || text.contains(". "));
        let braced = text.contains("://") || text.contains("</");
        !braced && letters.len() > 1 && (sentence || (begins_large && (spaced || !self.browser)))
    }
}

/// The text of a string literal; none for other literals.
fn text_of(literal: &str) -> Option<String> {
    let lit: syn::LitStr = syn::parse_str(literal).ok()?;
    Some(lit.value())
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use serde_json::Value;

    use super::*;
    use crate::packs;

    fn english(name: &str, text: &str) -> Vec<String> {
        let sentence = |found: Sentence| {
            found.plural.map_or(found.english.clone(), |plural| format!("{}|{plural}", found.english))
        };
        of_source(name, text).unwrap().into_iter().map(sentence).collect()
    }

    #[test]
    fn what_is_looked_up_is_found() {
        let code = r#"
            fn a() { tr!("Move {what}.", what = words!("aft")); tr!("one" | "{n} of them" % n); }
            const B: &str = "Not of a page.";
            #[cfg(test)]
            mod tests { fn c() { words!("test"); } }
        "#;
        assert_eq!(english("src/procedure/a.rs", code), ["Move {what}.", "aft", "one|{n} of them"]);
    }

    #[test]
    fn the_words_of_figures_are_found() {
        let file = "Figures.\n= turned-upright 170 A protractor.\narea f 1,1 2,2\n?!turned @near name n 200,82 s first way\ntext n 1,1 m 2\n";
        assert_eq!(of_figures(file), ["Turned upright", "A protractor.", "first way"]);
    }

    #[test]
    fn a_literal_of_a_page_is_found_when_it_reads_like_words() {
        let code = r#"
            #[doc = "Not this."]
            fn page() {
                para("hint", "Nothing leaves this phone."); button("id", "plain wide", "Keep it", x);
                format!("entry-{key}"); x.expect("it is there"); format!("Never found. {}", words!("found"));
                js::get("SpeechRecognition"); "https://host.example";
            }
        "#;
        assert_eq!(
            english("src/app/pages/a.rs", code),
            ["Nothing leaves this phone.", "Keep it", "found", "SpeechRecognition"]
        );
        assert_eq!(english("src/app/browser/a.rs", code), ["Nothing leaves this phone.", "Keep it", "found"]);
        assert_eq!(english("src/report/a.rs", code), ["found"]);
    }

    fn keys(text: &str) -> BTreeSet<&str> {
        text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(key, _)| key).collect()
    }

    /// The words of a sentence: one, or two where a number decides.
    fn said<'a>(words: &'a packs::Words, sentence: &Sentence) -> Option<Vec<&'a str>> {
        match words.get(&sentence.english)? {
            Value::String(said) if sentence.plural.is_none() => Some(vec![said]),
            Value::Array(both) if sentence.plural.is_some() => both.iter().map(Value::as_str).collect(),
            _ => None,
        }
    }

    #[test]
    fn every_sentence_is_in_every_catalogue_with_the_same_keys() {
        let sentences = sentences().unwrap();
        assert!(sentences.len() > 2000, "{}", sentences.len());
        for (code, words) in packs::catalogues().unwrap() {
            let mut wrong = Vec::new();
            for (sentence, file) in &sentences {
                let meant = keys(sentence.plural.as_ref().unwrap_or(&sentence.english));
                match said(&words, sentence) {
                    None => wrong.push(format!("{file}: {sentence:?} is not there")),
                    Some(said) if said.last().is_none_or(|said| keys(said) != meant) => {
                        wrong.push(format!("{file}: {sentence:?} has other keys in {said:?}"));
                    }
                    Some(_) => {}
                }
            }
            assert!(wrong.is_empty(), "{code}: {} sentences: {wrong:#?}", wrong.len());
        }
    }

    #[test]
    fn no_catalogue_holds_a_sentence_that_nobody_says() {
        let sentences: BTreeSet<String> = sentences().unwrap().into_keys().map(|sentence| sentence.english).collect();
        for code in ["de", "fr", "es"] {
            let file = project::root().join(format!("src/language/catalogue/{code}/screens.po"));
            let catalogue = polib::po_file::parse(&file).unwrap();
            let idle: Vec<&str> =
                catalogue.messages().map(|message| message.msgid()).filter(|id| !sentences.contains(*id)).collect();
            assert!(idle.is_empty(), "{code}: {idle:#?}");
        }
    }
}
