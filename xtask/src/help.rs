//! The user guide (`docs/guide`, in the form that mdBook builds too) as pages below `help/`: plain HTML, no script.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use pulldown_cmark::{CowStr, Event, Options, Parser, Tag, TagEnd, html};

use crate::assets::Asset;
use crate::{project, template};

/// Where the guide stands: `SUMMARY.md` names its chapters in order, `images/` holds its pictures.
const GUIDE: &str = "docs/guide";

/// The folder of the pages, below the app's base.
pub(crate) const FOLDER: &str = "help/";

/// A file of the guide: where it stands in the contents, and what it says.
struct Chapter {
    file: String,
    title: String,
    text: String,
}

impl Chapter {
    /// Its address below `help/`: a folder each, since some hosts redirect the names of HTML files.
    fn address(&self) -> String {
        let name = self.file.trim_end_matches(".md");
        if name == "README" { String::new() } else { format!("{name}/") }
    }

    /// The way from it up to `help/`.
    fn up(&self) -> &'static str {
        if self.address().is_empty() { "" } else { "../" }
    }

    /// The words of each heading, its first among them.
    fn headings(&self) -> Vec<String> {
        let mut found = Vec::new();
        let mut inside = false;
        for event in parse(&self.text) {
            match event {
                Event::Start(Tag::Heading { .. }) => {
                    inside = true;
                    found.push(String::new());
                }
                Event::End(TagEnd::Heading(_)) => inside = false,
                Event::Text(words) | Event::Code(words) if inside => {
                    if let Some(heading) = found.last_mut() {
                        heading.push_str(&words);
                    }
                }
                _ => {}
            }
        }
        found
    }
}

/// What every page shares, and how a page is filled in.
struct Guide<'a> {
    template: &'a str,
    chapters: Vec<Chapter>,
    /// By the name that the chapters have for them.
    pictures: BTreeMap<String, Asset>,
    style: Asset,
    icon: &'a Asset,
}

/// The pages, their pictures and their stylesheet.
///
/// # Errors
/// When a file is missing, a link of the guide leads nowhere, or a page cannot be filled in.
pub(crate) fn assets(template: &str, css: &str, icon: &Asset) -> Result<Vec<Asset>> {
    let folder = project::root().join(GUIDE);
    let style = Asset::hashed("help.css", template::shrink_css(css).into_bytes())?;
    let guide = Guide { template, chapters: chapters(&folder)?, pictures: pictures(&folder)?, style, icon };
    let mut all = guide.pages()?;
    all.extend(guide.pictures.into_values());
    all.push(guide.style);
    Ok(all)
}

fn chapters(folder: &Path) -> Result<Vec<Chapter>> {
    let read =
        |name: &str| fs::read_to_string(folder.join(name)).with_context(|| format!("cannot read {GUIDE}/{name}"));
    contents(&read("SUMMARY.md")?)
        .into_iter()
        .map(|(file, title)| {
            let text = read(&file)?;
            Ok(Chapter { file, title, text })
        })
        .collect()
}

/// The chapters that a summary names: file and title.
fn contents(summary: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut file = None;
    for event in parse(summary) {
        match event {
            Event::Start(Tag::Link { dest_url, .. }) => file = Some((dest_url.to_string(), String::new())),
            Event::Text(words) => {
                if let Some((_, title)) = &mut file {
                    title.push_str(&words);
                }
            }
            Event::End(TagEnd::Link) => found.extend(file.take()),
            _ => {}
        }
    }
    found
}

fn pictures(folder: &Path) -> Result<BTreeMap<String, Asset>> {
    let files = fs::read_dir(folder.join("images")).with_context(|| format!("cannot read {GUIDE}/images"))?;
    let files = files.flatten().map(|file| file.path());
    files
        .map(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            Ok((format!("images/{name}"), Asset::hashed(&format!("help-{name}"), fs::read(&path)?)?))
        })
        .collect()
}

impl Guide<'_> {
    fn pages(&self) -> Result<Vec<Asset>> {
        let page = |place| self.page(place).with_context(|| format!("{GUIDE}/{}", self.chapters[place].file));
        (0..self.chapters.len()).map(page).collect()
    }

    fn page(&self, place: usize) -> Result<Asset> {
        let chapter = &self.chapters[place];
        if chapter.headings().first() != Some(&chapter.title) {
            bail!("the first heading is not the title in SUMMARY.md, {:?}", chapter.title);
        }
        let root = format!("{}../", chapter.up());
        let beside = |place: Option<usize>, rel: &str| {
            let Some(other) = place.and_then(|place| self.chapters.get(place)) else { return String::new() };
            format!("<a rel=\"{rel}\" href=\"{}\">{}</a>", way(chapter, other), escaped(&other.title))
        };
        let values = [
            ("title", escaped(&chapter.title)),
            ("root", root),
            ("style", self.style.path.clone()),
            ("icon", self.icon.path.clone()),
            ("text", self.text(chapter)?),
            ("contents", self.list(chapter)),
            ("before", beside(place.checked_sub(1), "prev")),
            ("after", beside(place.checked_add(1), "next")),
        ];
        let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
        let page = template::fill(self.template, &values)?;
        Asset::plain(format!("{FOLDER}{}index.html", chapter.address()), page.into_bytes())
    }

    /// All chapters, the one that is open marked.
    fn list(&self, open: &Chapter) -> String {
        let item = |chapter: &Chapter| {
            let here = if chapter.file == open.file { " aria-current=\"page\"" } else { "" };
            format!("<li><a href=\"{}\"{here}>{}</a></li>\n", way(open, chapter), escaped(&chapter.title))
        };
        self.chapters.iter().map(item).collect()
    }

    /// A chapter as HTML: each heading can be linked to, each link and picture leads to what is there.
    fn text(&self, chapter: &Chapter) -> Result<String> {
        let mut anchors = chapter.headings().into_iter().map(|heading| anchor(&heading));
        let mut events = Vec::new();
        for event in parse(&chapter.text) {
            events.push(match event {
                Event::Start(Tag::Heading { level, classes, attrs, .. }) => {
                    Event::Start(Tag::Heading { level, id: anchors.next().map(CowStr::from), classes, attrs })
                }
                Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
                    let dest_url = self.target(chapter, &dest_url)?.into();
                    Event::Start(Tag::Link { link_type, dest_url, title, id })
                }
                Event::Start(Tag::Image { link_type, dest_url, title, id }) => {
                    let picture = self.pictures.get(&*dest_url).with_context(|| format!("there is no {dest_url}"))?;
                    let dest_url = format!("{}../{}", chapter.up(), picture.path).into();
                    Event::Start(Tag::Image { link_type, dest_url, title, id })
                }
                Event::Html(markup) | Event::InlineHtml(markup) => bail!("markup in the text: {markup}"),
                other => other,
            });
        }
        let mut text = String::new();
        html::push_html(&mut text, events.into_iter());
        Ok(text)
    }

    /// Where a link of a chapter leads to from its page.
    fn target(&self, from: &Chapter, link: &str) -> Result<String> {
        let (file, place) = link.split_once('#').map_or((link, None), |(file, place)| (file, Some(place)));
        let to = if file.is_empty() { Some(from) } else { self.chapters.iter().find(|chapter| chapter.file == file) };
        let to = to.with_context(|| format!("no chapter for the link {link}"))?;
        let Some(place) = place else { return Ok(way(from, to)) };
        if !to.headings().iter().any(|heading| anchor(heading) == place) {
            bail!("no heading for the link {link}");
        }
        Ok(if file.is_empty() { format!("#{place}") } else { format!("{}#{place}", way(from, to)) })
    }
}

/// The address of `to` on the page of `from`.
fn way(from: &Chapter, to: &Chapter) -> String {
    let there = format!("{}{}", from.up(), to.address());
    if there.is_empty() { "./".to_owned() } else { there }
}

fn parse(text: &str) -> Parser<'_> {
    Parser::new_ext(text, Options::ENABLE_TABLES)
}

/// A heading's name in addresses, as mdBook makes it: small letters, digits and hyphens.
fn anchor(heading: &str) -> String {
    let kept = heading.chars().filter(|c| c.is_alphanumeric() || "_- ".contains(*c));
    kept.map(|c| if c == ' ' { '-' } else { c.to_ascii_lowercase() }).collect()
}

fn escaped(words: &str) -> String {
    let mut out = String::new();
    html::push_html(&mut out, std::iter::once(Event::Text(words.into())));
    out
}

#[cfg(test)]
mod tests;
