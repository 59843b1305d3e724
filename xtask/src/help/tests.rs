use std::collections::BTreeSet;

use serde_json::Value;

use super::*;
use crate::words;

fn folder() -> std::path::PathBuf {
    project::root().join(GUIDE)
}

fn icon() -> Asset {
    Asset::plain("assets/mark.svg", b"<svg/>".to_vec()).unwrap()
}

fn template() -> String {
    fs::read_to_string(project::root().join("public/help.html")).unwrap()
}

fn built() -> Vec<Asset> {
    assets(&template(), "a { color: red }", &icon()).unwrap()
}

fn names(folder: &Path) -> BTreeSet<String> {
    let files = fs::read_dir(folder).unwrap().flatten();
    files.map(|file| file.file_name().to_string_lossy().into_owned()).collect()
}

/// What stands between each `from` and the next quotation mark.
fn quoted<'a>(page: &'a str, from: &str) -> Vec<&'a str> {
    page.split(from).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

#[test]
fn every_chapter_of_the_summary_is_a_page_and_nothing_else_lies_about() {
    let chapters = chapters(&folder()).unwrap();
    assert!(chapters.len() > 10, "{}", chapters.len());
    let files: BTreeSet<String> = chapters.iter().map(|chapter| chapter.file.clone()).collect();
    let there = names(&folder()).into_iter().filter(|name| name.ends_with(".md") && name != "SUMMARY.md");
    assert_eq!(files, there.collect(), "SUMMARY.md names every file once");
    let pages: BTreeSet<String> = built().into_iter().map(|asset| asset.path).collect();
    for chapter in &chapters {
        let address = format!("help/{}index.html", chapter.address());
        assert!(pages.contains(&address), "{address}");
    }
    let pictures: BTreeSet<String> = chapters.iter().flat_map(|chapter| pictures_in(&chapter.text)).collect();
    let there = names(&folder().join("images")).into_iter().map(|name| format!("images/{name}"));
    assert_eq!(pictures, there.collect(), "each picture is shown");
}

fn pictures_in(text: &str) -> Vec<String> {
    let events = parse(text).filter_map(|event| match event {
        Event::Start(Tag::Image { dest_url, .. }) => Some(dest_url.to_string()),
        _ => None,
    });
    events.collect()
}

/// Every address on every page, as a browser resolves it (RFC 3986, 5.2.4), leads to a file and a place in it.
#[test]
fn every_link_and_picture_of_the_pages_leads_somewhere() {
    let all = built();
    let text = |asset: &Asset| String::from_utf8(asset.bytes.clone()).unwrap();
    let found: BTreeMap<String, String> = all
        .iter()
        .map(|asset| match asset.path.strip_suffix("index.html") {
            Some(folder) => (folder.to_owned(), text(asset)),
            None => (asset.path.clone(), String::new()),
        })
        .chain([(String::new(), String::new()), (icon().path, String::new())])
        .collect();
    let mut followed = 0;
    for (address, page) in found.iter().filter(|(_, page)| !page.is_empty()) {
        for link in quoted(page, "href=\"").into_iter().chain(quoted(page, "src=\"")) {
            let (way, place) = link.split_once('#').unwrap_or((link, ""));
            let there = resolved(address, way);
            let other = found.get(&there).unwrap_or_else(|| panic!("{link} on {address} leads to {there}"));
            assert!(place.is_empty() || other.contains(&format!(" id=\"{place}\"")), "{link} on {address}");
            followed += 1;
        }
    }
    assert!(followed > 200, "{followed}");
}

fn resolved(from: &str, way: &str) -> String {
    if way.is_empty() {
        return from.to_owned();
    }
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in way.split('/') {
        match part {
            ".." => drop(parts.pop().expect("no link leaves the app's folder")),
            "." => {}
            part => parts.push(part),
        }
    }
    let ends = if way.ends_with('.') || way.ends_with("./") { "/" } else { "" };
    let there = parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("/");
    let folder = way.ends_with('/') || !ends.is_empty();
    if folder && !there.is_empty() { there + "/" } else { there }
}

#[test]
fn a_link_that_leads_nowhere_is_refused() {
    let (template, icon) = (template(), icon());
    let page = |text: &str| {
        let text = format!("# Title\n\n## A place, here\n\n{text}\n");
        let chapters = vec![Chapter { file: "README.md".into(), title: "Title".into(), text }];
        let style = Asset::hashed("help.css", Vec::new()).unwrap();
        Guide { template: &template, chapters, pictures: BTreeMap::new(), style, icon: &icon }.page(0)
    };
    for good in ["[here](#a-place-here)", "[there](README.md#a-place-here)", "[all](README.md)"] {
        assert!(page(good).is_ok(), "{good}");
    }
    for bad in ["[x](other.md)", "[x](README.md#no)", "[x](#no)", "![x](images/x.webp)", "<b>x</b>", "[x](https://x.y)"]
    {
        assert!(page(bad).is_err(), "{bad}");
    }
    let chapters = vec![Chapter { file: "README.md".into(), title: "Other".into(), text: "# Title\n".into() }];
    let style = Asset::hashed("help.css", Vec::new()).unwrap();
    assert!(Guide { template: &template, chapters, pictures: BTreeMap::new(), style, icon: &icon }.page(0).is_err());
}

/// What the guide calls by the words of a screen (in italics) is said by the app in those words.
#[test]
fn words_in_italics_are_on_the_screens() {
    let mut said: Vec<String> = words::sentences().unwrap().into_keys().map(|sentence| sentence.english).collect();
    for file in fs::read_dir(project::root().join("src/procedure/library")).unwrap().flatten() {
        texts(&serde_json::from_str(&fs::read_to_string(file.path()).unwrap()).unwrap(), &mut said);
    }
    let mut unknown = Vec::new();
    let mut known = 0;
    for chapter in chapters(&folder()).unwrap() {
        for words in italics(&chapter.text) {
            if said.iter().any(|sentence| begins(sentence, &words)) {
                known += 1;
            } else {
                unknown.push(format!("{}: {words}", chapter.file));
            }
        }
    }
    assert!(unknown.is_empty(), "no screen says {unknown:#?}");
    assert!(known > 100, "{known}");
}

/// Whether `sentence` is `words`, or goes on with what changes, or with what stands behind a mark.
fn begins(sentence: &str, words: &str) -> bool {
    let (sentence, words) = (sentence.to_lowercase().replace('’', "'"), words.to_lowercase());
    sentence.strip_prefix(&words).is_some_and(|rest| {
        let rest = rest.trim_start();
        rest.is_empty() || rest.starts_with(['{', ':', '.', '…', ',', '\n', '('])
    })
}

fn texts(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::String(text) => found.push(text.clone()),
        Value::Array(items) => items.iter().for_each(|item| texts(item, found)),
        Value::Object(items) => items.values().for_each(|item| texts(item, found)),
        _ => {}
    }
}

fn italics(text: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut inside = false;
    for event in parse(text) {
        match event {
            Event::Start(Tag::Emphasis) => {
                inside = true;
                found.push(String::new());
            }
            Event::End(TagEnd::Emphasis) => inside = false,
            Event::Text(words) if inside => found.last_mut().unwrap().push_str(&words),
            Event::SoftBreak if inside => found.last_mut().unwrap().push(' '),
            _ => {}
        }
    }
    found
}
