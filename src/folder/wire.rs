//! What is asked of a server and what it answers: the seam behind which a browser's `fetch` stands, or a socket in a test.

use std::future::Future;

/// What is done with a file or a folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// Reads a file.
    Get,
    /// Writes a file.
    Put,
    /// Lists a folder, one level deep.
    List,
    /// Makes a folder.
    MakeFolder,
}

impl Method {
    /// What the request line says.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Get => "GET",
            Self::Put => "PUT",
            Self::List => "PROPFIND",
            Self::MakeFolder => "MKCOL",
        }
    }
}

/// One request.
#[derive(Clone, Debug)]
pub struct Request<'a> {
    /// What to do.
    pub method: Method,
    /// Where, below the folder; empty for the folder itself. Every character of it may stand in an address as it is.
    pub path: &'a str,
    /// Header fields, beside those that every request of the wire has (who asks).
    pub headers: Vec<(&'static str, String)>,
    /// What is sent.
    pub body: &'a [u8],
    /// Longest answer that is read, in bytes. One that is longer counts as dropped.
    pub at_most: usize,
}

/// What came back.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    /// The status, 100 to 599.
    pub status: u16,
    /// The header field `ETag`, as it stands.
    pub etag: Option<String>,
    /// The header field `Retry-After`, where it is a number of seconds.
    pub retry_after: Option<u32>,
    /// The whole body: a wire that received less than was announced says [`Dropped`].
    pub body: Vec<u8>,
}

/// Nothing came back, or not all of it. Whether the server did what was asked is not known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dropped;

/// A way to the folder.
pub trait Wire {
    /// Asks once.
    ///
    /// # Errors
    /// [`Dropped`].
    fn send(&self, request: &Request<'_>) -> impl Future<Output = Result<Answer, Dropped>>;

    /// Waits so many milliseconds.
    fn pause(&self, millis: u32) -> impl Future<Output = ()>;

    /// A number by chance, 0 to 1: phones that were turned away together do not come back together.
    fn chance(&self) -> f64;
}
