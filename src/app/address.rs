//! Addresses inside the app: what a path means, and the path of a place.

use leptos::prelude::*;
use leptos_router::hooks::use_location;

use super::frame::base_path;
use crate::record::AirframeId;

/// A place in the app.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Address {
    /// Every airframe.
    Hangar,
    /// The settings of this phone.
    Settings,
    /// The form for a new airframe.
    NewAirframe,
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
    /// Its rigging specification.
    Specification,
    /// Its instruments.
    Instruments,
    /// Where the assembly sits by all readings together.
    Place,
    /// Its record.
    Record,
    /// Its run, at a step; empty means the step that is open.
    Run(String),
}

impl Address {
    /// What a path means, the app's own base already taken away.
    pub(crate) fn read(path: &str) -> Self {
        let mut parts = path.trim_matches('/').splitn(4, '/');
        let (first, second, third) = (parts.next(), parts.next(), parts.next());
        match (first, second, third) {
            (None | Some(""), None, None) => Self::Hangar,
            (Some("settings"), None, None) => Self::Settings,
            (Some("airframe"), Some("new"), None) => Self::NewAirframe,
            (Some("airframe"), Some(id), third) => {
                let page = match (third, parts.next()) {
                    (None, None) => Page::Overview,
                    (Some("specification"), None) => Page::Specification,
                    (Some("instruments"), None) => Page::Instruments,
                    (Some("place"), None) => Page::Place,
                    (Some("record"), None) => Page::Record,
                    (Some("run"), step) => Page::Run(step.unwrap_or_default().to_owned()),
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
            Self::NewAirframe => "/airframe/new".to_owned(),
            Self::Of(id, Page::Overview) => format!("/airframe/{id}"),
            Self::Of(id, Page::Specification) => format!("/airframe/{id}/specification"),
            Self::Of(id, Page::Instruments) => format!("/airframe/{id}/instruments"),
            Self::Of(id, Page::Place) => format!("/airframe/{id}/place"),
            Self::Of(id, Page::Record) => format!("/airframe/{id}/record"),
            Self::Of(id, Page::Run(step)) => format!("/airframe/{id}/run/{step}"),
        }
    }

    /// The same place, the step of a run left aside: while this stays the same, so does the page.
    pub(crate) fn page(&self) -> Self {
        match self {
            Self::Of(id, Page::Run(_)) => Self::Of(*id, Page::Run(String::new())),
            other => other.clone(),
        }
    }

    /// The step that a run's address names; empty when it names none.
    pub(crate) fn step(&self) -> String {
        match self {
            Self::Of(_, Page::Run(step)) => step.clone(),
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
