//! Why a folder could not be brought into step, in words.

use std::fmt;

use crate::language::{tr, words};

/// Why the work ended early. What is on the phone is as it was, and what was taken in until then stays.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// Nothing answers, or the connection breaks each time.
    NoAnswer,
    /// The name or the password is not accepted (401, 403).
    NotAllowed,
    /// There is no such folder, and it could not be made (404, 409).
    NoFolder,
    /// What answers is no WebDAV folder, or its listing cannot be read.
    NotAFolder,
    /// The server has no room (507), or takes no file of this size (413).
    Full,
    /// The server fails each time, with this status.
    Fails(u16),
    /// The server refuses, with this status.
    Refuses(u16),
    /// Another device wrote the same file each time: two phones have the same identity.
    Contested,
    /// A newer version of the app wrote this phone's file.
    Newer,
    /// The phone's own storage failed, in its words.
    Phone(String),
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let status;
        let why = match self {
            Self::NoAnswer => words!(
                "The folder does not answer. There may be no network, the address may be wrong, or its server may not allow this \
                 page to ask (CORS)."
            ),
            Self::NotAllowed => words!("The folder does not accept the name or the password."),
            Self::NoFolder => words!(
                "There is no folder at this address, and it could not be made. Its parent folder may be missing."
            ),
            Self::NotAFolder => words!("What answers at this address is not a WebDAV folder."),
            Self::Full => {
                words!("The folder is full, or takes no file of this size. Make room there, then try again.")
            }
            Self::Fails(number) => {
                status = tr!("The folder's server fails (status {number}). Try again later.", number);
                &status
            }
            Self::Refuses(number) => {
                status = tr!("The folder's server refuses (status {number}).", number);
                &status
            }
            Self::Contested => words!(
                "This phone's file in the folder changed each time while it was being written. Another phone or another tab may be \
                 using the same storage. Try again."
            ),
            Self::Newer => {
                words!("This phone's file in the folder was written by a newer version of the app. Update the app.")
            }
            Self::Phone(words) => words,
        };
        write!(f, "{why} {}", words!("Nothing was lost: the record is on this phone."))
    }
}

impl std::error::Error for Trouble {}

impl Trouble {
    /// What a status means where success was hoped for.
    pub(super) const fn of(status: u16) -> Self {
        match status {
            401 | 403 => Self::NotAllowed,
            404 | 409 => Self::NoFolder,
            413 | 507 => Self::Full,
            500.. => Self::Fails(status),
            _ => Self::Refuses(status),
        }
    }
}
