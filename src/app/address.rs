//! Addresses inside the app: what a path means, and the path of a place.

use leptos::prelude::*;
use leptos_router::hooks::use_location;

use super::frame::base_path;
use crate::record::{AirframeId, EntryId};

/// A place in the app.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Address {
    /// Every airframe.
    Hangar,
    /// The settings of this phone.
    Settings,
    /// The folder that records are kept in step with, and the outbox.
    Folder,
    /// Teaching the phone one's own words.
    Teach,
    /// The form for a new airframe.
    NewAirframe,
    /// All airframes beside each other, and what waits for an answer.
    Desk,
    /// The reckonings for a quick answer.
    Bench,
    /// One of them, by its name.
    BenchOf(String),
    /// A page of one airframe.
    Of(AirframeId, Page),
    /// Nowhere.
    Unknown,
}

/// The pages of an airframe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Page {
    /// Its overview.
    Overview,
    /// What a procedure is for, what it needs and how far it has come.
    Work(String),
    /// The numbers that a procedure needs from the manual.
    Specification(String),
    /// Everything that its specification holds: shape, counts, files.
    WholeSpecification,
    /// The numbers for a second person to read again: those of a procedure, or all with an empty name.
    Reread(String),
    /// Its instruments.
    Instruments,
    /// Who has a part in it.
    People,
    /// Where the assembly sits by all readings of a procedure together.
    Place(String),
    /// Its record.
    Record,
    /// Sending it on.
    Send,
    /// What is left to do on it.
    Todo,
    /// The time that was spent on it.
    Time,
    /// A procedure that is being written for it, at a part; an empty one means all of it.
    Write(String, String),
    /// What is said of a step of its run of a procedure.
    Notes(String, String),
    /// Asking somebody who is not there about a step of its run of a procedure.
    Ask(String, String),
    /// A question that was asked, what it is about, and the answer.
    Question(EntryId),
    /// One of its photos, or a reading that one is taken of.
    Photo(EntryId),
    /// What the one who helps sees of a step of its run of a procedure; an empty one means the step that is open.
    Helper(String, String),
    /// Its run of a procedure, at a step; an empty one means the step that is open.
    Run(String, String),
}

impl Address {
    /// What a path means, the app's own base already taken away.
    pub(crate) fn read(path: &str) -> Self {
        let mut parts = path.trim_matches('/').splitn(4, '/');
        let (first, second, third) = (parts.next(), parts.next(), parts.next());
        match (first, second, third) {
            (None | Some(""), None, None) => Self::Hangar,
            (Some("settings"), None, None) => Self::Settings,
            (Some("settings"), Some("folder"), None) => Self::Folder,
            (Some("settings"), Some("voice"), None) => Self::Teach,
            (Some("desk"), None, None) => Self::Desk,
            (Some("bench"), None, None) => Self::Bench,
            (Some("bench"), Some(id), None) => Self::BenchOf(id.to_owned()),
            (Some("airframe"), Some("new"), None) => Self::NewAirframe,
            (Some("airframe"), Some(id), third) => {
                let rest = parts.next().map(|rest| rest.split_once('/').unwrap_or((rest, "")));
                let page = match (third, rest) {
                    (None, None) => Page::Overview,
                    (Some("job"), Some((procedure, ""))) => Page::Work(procedure.to_owned()),
                    (Some("specification"), Some((procedure, ""))) => Page::Specification(procedure.to_owned()),
                    (Some("specification"), None) => Page::WholeSpecification,
                    (Some("reread"), None) => Page::Reread(String::new()),
                    (Some("reread"), Some((procedure, ""))) => Page::Reread(procedure.to_owned()),
                    (Some("instruments"), None) => Page::Instruments,
                    (Some("people"), None) => Page::People,
                    (Some("place"), Some((procedure, ""))) => Page::Place(procedure.to_owned()),
                    (Some("record"), None) => Page::Record,
                    (Some("send"), None) => Page::Send,
                    (Some("todo"), None) => Page::Todo,
                    (Some("time"), None) => Page::Time,
                    (Some("write"), Some((procedure, part))) => Page::Write(procedure.to_owned(), part.to_owned()),
                    (Some("notes"), Some((procedure, step))) => Page::Notes(procedure.to_owned(), step.to_owned()),
                    (Some("ask"), Some((procedure, step))) => Page::Ask(procedure.to_owned(), step.to_owned()),
                    (Some("question"), Some((entry, ""))) => match entry.parse() {
                        Ok(entry) => Page::Question(entry),
                        Err(_) => return Self::Unknown,
                    },
                    (Some("photo"), Some((entry, ""))) => match entry.parse() {
                        Ok(entry) => Page::Photo(entry),
                        Err(_) => return Self::Unknown,
                    },
                    (Some("helper"), Some((procedure, step))) => Page::Helper(procedure.to_owned(), step.to_owned()),
                    (Some("run"), Some((procedure, step))) => Page::Run(procedure.to_owned(), step.to_owned()),
                    _ => return Self::Unknown,
                };
                id.parse().map_or(Self::Unknown, |id| Self::Of(id, page))
            }
            _ => Self::Unknown,
        }
    }

    /// The path of the place, under the app's base: what a link leads to.
    pub(crate) fn path(&self) -> String {
        base_path() + &self.route()
    }

    /// The path of the place inside the app: what the router is told, which puts the base before it by itself.
    pub(crate) fn route(&self) -> String {
        match self {
            Self::Hangar | Self::Unknown => "/".to_owned(),
            Self::Settings => "/settings".to_owned(),
            Self::Folder => "/settings/folder".to_owned(),
            Self::Teach => "/settings/voice".to_owned(),
            Self::NewAirframe => "/airframe/new".to_owned(),
            Self::Desk => "/desk".to_owned(),
            Self::Bench => "/bench".to_owned(),
            Self::BenchOf(id) => format!("/bench/{id}"),
            Self::Of(id, Page::Overview) => format!("/airframe/{id}"),
            Self::Of(id, Page::Work(procedure)) => format!("/airframe/{id}/job/{procedure}"),
            Self::Of(id, Page::Specification(procedure)) => format!("/airframe/{id}/specification/{procedure}"),
            Self::Of(id, Page::WholeSpecification) => format!("/airframe/{id}/specification"),
            Self::Of(id, Page::Reread(procedure)) if procedure.is_empty() => format!("/airframe/{id}/reread"),
            Self::Of(id, Page::Reread(procedure)) => format!("/airframe/{id}/reread/{procedure}"),
            Self::Of(id, Page::Instruments) => format!("/airframe/{id}/instruments"),
            Self::Of(id, Page::People) => format!("/airframe/{id}/people"),
            Self::Of(id, Page::Place(procedure)) => format!("/airframe/{id}/place/{procedure}"),
            Self::Of(id, Page::Todo) => format!("/airframe/{id}/todo"),
            Self::Of(id, Page::Time) => format!("/airframe/{id}/time"),
            Self::Of(id, Page::Record) => format!("/airframe/{id}/record"),
            Self::Of(id, Page::Send) => format!("/airframe/{id}/send"),
            Self::Of(id, Page::Write(procedure, part)) if part.is_empty() => {
                format!("/airframe/{id}/write/{procedure}")
            }
            Self::Of(id, Page::Write(procedure, part)) => format!("/airframe/{id}/write/{procedure}/{part}"),
            Self::Of(id, Page::Notes(procedure, step)) => format!("/airframe/{id}/notes/{procedure}/{step}"),
            Self::Of(id, Page::Ask(procedure, step)) => format!("/airframe/{id}/ask/{procedure}/{step}"),
            Self::Of(id, Page::Question(entry)) => format!("/airframe/{id}/question/{entry}"),
            Self::Of(id, Page::Photo(entry)) => format!("/airframe/{id}/photo/{entry}"),
            Self::Of(id, Page::Helper(procedure, step)) if step.is_empty() => {
                format!("/airframe/{id}/helper/{procedure}")
            }
            Self::Of(id, Page::Helper(procedure, step)) => format!("/airframe/{id}/helper/{procedure}/{step}"),
            Self::Of(id, Page::Run(procedure, step)) if step.is_empty() => format!("/airframe/{id}/run/{procedure}"),
            Self::Of(id, Page::Run(procedure, step)) => format!("/airframe/{id}/run/{procedure}/{step}"),
        }
    }

    /// The same place, the step of a run or the part of what is written left aside: while this stays the same, so does the page.
    pub(crate) fn page(&self) -> Self {
        match self {
            Self::Of(id, Page::Run(procedure, _)) => Self::Of(*id, Page::Run(procedure.clone(), String::new())),
            Self::Of(id, Page::Helper(procedure, _)) => Self::Of(*id, Page::Helper(procedure.clone(), String::new())),
            Self::Of(id, Page::Write(procedure, _)) => Self::Of(*id, Page::Write(procedure.clone(), String::new())),
            other => other.clone(),
        }
    }

    /// The step that a run's address names, or the part of what is written; empty when it names none.
    pub(crate) fn step(&self) -> String {
        match self {
            Self::Of(_, Page::Run(_, step) | Page::Helper(_, step) | Page::Write(_, step)) => step.clone(),
            _ => String::new(),
        }
    }
}

/// Where the browser is.
pub(crate) fn here() -> Memo<Address> {
    let path = use_location().pathname;
    let base = base_path();
    Memo::new(move |_| path.with(|path| Address::read(path.strip_prefix(&base).unwrap_or(path))))
}
