//! What every page uses: the framework's own prelude, with the parts of a page as the app has them.

pub(crate) use super::element::{AnyView, IntoAny};
pub(crate) use super::pen::view;
pub(crate) use leptos::prelude::*;
