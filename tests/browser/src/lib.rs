//! The app in three browser engines: Chromium, Firefox and WebKitGTK, by one WebDriver client.
//!
//! A test is a function of a [`Bench`]; [`in_engines!`] makes one test of it for each engine. The environment:
//! `TRAMMEL_ENGINES` (comma list; all three by default), `TRAMMEL_XTASK` (the program that serves the app),
//! `TRAMMEL_DIST` (another folder than `dist/` to serve), `TRAMMEL_MINIBROWSER`, `GECKODRIVER`, `AXE_JS`, and
//! `TRAMMEL_SCREENSHOTS` (a folder for a picture of the page that a test failed on).

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "tests report to their terminal")]

pub mod axe;
mod bench;
mod cdp;
mod child;
mod contrast;
mod driver;
mod engine;
pub mod files;
mod gate;
pub mod layout;
pub mod pad;
mod page;
mod project;
mod reach;
mod screen;
mod server;
pub mod sheet;
mod snapshot;
mod start;
pub mod typing;
mod watch;

pub use bench::{Bench, run, run_test};
pub use driver::{Launch, Session};
pub use engine::Engine;
pub use page::Page;
pub use project::{screenshots, target};
pub use screen::{Move, Screen};
pub use server::{AppServer, sentences};
pub use watch::Watch;

/// One test per engine and case, named `engine::case`.
#[macro_export]
macro_rules! in_engines {
    ($($module:ident $engine:ident: $($case:ident),+ $(,)?;)+) => {
        $(mod $module {
            $(#[test]
            fn $case() {
                $crate::run_test($crate::Engine::$engine, stringify!($case), super::$case);
            })+
        })+
    };
    ($($case:ident),+ $(,)?) => {
        $crate::in_engines! {
            chromium Chromium: $($case),+;
            firefox Firefox: $($case),+;
            webkit WebKit: $($case),+;
        }
    };
}
