//! Which language this phone speaks: chosen in the settings, else the browser's own, else English.

use std::cell::RefCell;

use leptos::prelude::document;

use super::browser::{pack, settings};
use super::settings::Settings;
use crate::language::{self, Catalogue, Language, tr};

thread_local! {
    static MISSING: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// The language that the settings ask for; an empty choice is the browser's.
fn wanted(chosen: &str) -> Language {
    let browsers = settings::browser_language();
    Language::of_tag(if chosen.is_empty() { &browsers } else { chosen }).unwrap_or_default()
}

/// Whether another catalogue than English has to come before anything is shown.
pub(crate) fn needs_catalogue() -> bool {
    wanted(&Settings::load().language) != Language::English
}

/// Fetches the catalogue and speaks it. Where it cannot be had the app speaks English and says so.
pub(crate) async fn learn() {
    let language = wanted(&Settings::load().language);
    match catalogue(language).await {
        Ok(catalogue) => {
            language::speak(catalogue);
            if let Some(root) = document().document_element() {
                drop(root.set_attribute("lang", language.code()));
            }
        }
        Err(why) => {
            let name = language.own_name();
            let words = tr!(
                "{name} has to be fetched once with a network, and could not be: {why}. Until then Trammel speaks English.",
                name,
                why
            );
            MISSING.set(Some(words));
        }
    }
}

async fn catalogue(language: Language) -> Result<Catalogue, String> {
    let text = pack::text(&format!("{}.json", language.code())).await?;
    Catalogue::read(language, &text).map_err(|error| error.to_string())
}

/// Why the language that was asked for is not spoken.
pub(crate) fn missing() -> Option<String> {
    MISSING.with_borrow(Clone::clone)
}

/// Fetches what the choice needs, so that it can be spoken from the next start on.
///
/// # Errors
/// In words, when it cannot be had now.
pub(crate) async fn fetch(chosen: &str) -> Result<(), String> {
    match wanted(chosen) {
        Language::English => Ok(()),
        language => catalogue(language).await.map(drop),
    }
}

/// Asks for the catalogue once more when the service worker is there to keep it: the first visit's came before it was.
pub(crate) async fn keep() {
    if language::current() != Language::English {
        drop(catalogue(language::current()).await);
    }
}
