//! Why the phone's storage did not keep or give something, in sentences that a builder can act on.

use core::fmt;

use indexed_db_futures::error::{Error, OpenDbError};
use wasm_bindgen::JsValue;

use super::js;
use crate::language::{tr, words};

/// Why a store operation failed. [`fmt::Display`] is what the screen shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The browser does not let this page keep anything (site data blocked, no IndexedDB).
    Blocked,
    /// No room: the origin's quota or the phone itself is full.
    Full,
    /// The connection to the storage was lost, and opening it again did not help.
    Lost,
    /// The stored data were made by a newer version of the app.
    NewerVersion,
    /// Anything else, as the browser said it.
    Other(String),
}

impl fmt::Display for StoreError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Blocked => formatter.write_str(words!(
                "This browser does not let Trammel keep anything. Allow site data for this page, or leave the private \
                 window, and open it again."
            )),
            Self::Full => formatter.write_str(words!(
                "The phone's storage is full, so this is not kept. Make room on the phone, then try again; export the \
                 record first if you can."
            )),
            Self::Lost => formatter.write_str(words!(
                "The phone's storage stopped answering, so this is not kept yet. Try again; if it stays so, export the \
                 record, then close Trammel and open it again."
            )),
            Self::NewerVersion => formatter.write_str(words!(
                "The records on this phone were kept by a newer version of Trammel. Reload this page to get that \
                 version; the records are untouched."
            )),
            Self::Other(reason) => formatter.write_str(&tr!("The phone's storage refused this: {reason}", reason)),
        }
    }
}

impl std::error::Error for StoreError {}

impl StoreError {
    /// What was thrown, or what aborted the transaction, sorted by its name. See the specification of IndexedDB 3.0 for
    /// the names, and its trackers for engines that report a dropped connection by message only.
    pub(super) fn thrown(thrown: &JsValue) -> Self {
        let line = js::line_of(thrown);
        match js::name_of(thrown).as_str() {
            "QuotaExceededError" => Self::Full,
            "SecurityError" | "NotAllowedError" => Self::Blocked,
            "VersionError" => Self::NewerVersion,
            // Chromium with site data blocked: "UnknownError: The user denied permission to access the database."
            _ if line.contains("denied permission") => Self::Blocked,
            "InvalidStateError" | "UnknownError" | "AbortError" | "TransactionInactiveError" => Self::Lost,
            _ if says_lost(&line) => Self::Lost,
            _ => Self::Other(line),
        }
    }
}

/// The browser's message tells that the connection is gone, whatever name it gave the error.
fn says_lost(line: &str) -> bool {
    let line = line.to_ascii_lowercase();
    line.contains("connection") && ["lost", "clos"].iter().any(|word| line.contains(word))
}

impl From<Error> for StoreError {
    fn from(error: Error) -> Self {
        match error {
            Error::DomException(exception) => Self::thrown(exception.as_ref()),
            Error::Unknown(thrown) => Self::thrown(thrown.as_ref()),
            // The transaction was rolled back without a reason: engines do that when they shut the database down.
            Error::MissingData(_) => Self::Lost,
            Error::Serialisation(reason) => Self::Other(reason.to_string()),
        }
    }
}

impl From<OpenDbError> for StoreError {
    fn from(error: OpenDbError) -> Self {
        match error {
            // `open` threw at once, or there is no IndexedDB at all. (The crate reports any throw as version zero.)
            OpenDbError::VersionZero | OpenDbError::UnsupportedEnvironment | OpenDbError::NullFactory => Self::Blocked,
            // Opening in a private window of an engine that forbids it is refused as an invalid state.
            OpenDbError::Base(Error::DomException(exception))
                if js::name_of(exception.as_ref()) == "InvalidStateError" =>
            {
                Self::Blocked
            }
            OpenDbError::Base(error) => error.into(),
        }
    }
}
