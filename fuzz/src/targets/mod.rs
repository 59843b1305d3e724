//! What takes bytes from outside, one function each: whatever the bytes, it ends, breaks nothing off, takes no more memory than a
//! stated multiple of them, and what it accepts it writes back as it read it.
//!
//! The same functions run under the fuzzer (`fuzz/src/bin`), over the kept corpus natively (`tests/corpus.rs`) and over the kept corpus
//! in the browser's build (`fuzz/src/lib.rs`).

mod files;
mod leaving;
mod meter;
mod numbers;
mod pieces;

use std::borrow::Cow;
use std::fmt::Debug;

pub use meter::Room;

/// What came of some bytes, for whoever wants to compare it with what came of them elsewhere. A fuzzer does not.
#[derive(Default)]
pub struct Told(Option<String>);

impl Told {
    /// Nothing is written down.
    #[must_use]
    pub const fn not() -> Self {
        Self(None)
    }

    /// Everything is written down.
    #[must_use]
    pub const fn all() -> Self {
        Self(Some(String::new()))
    }

    /// What was written down.
    #[must_use]
    pub fn text(&self) -> &str {
        self.0.as_deref().unwrap_or_default()
    }

    fn put(&mut self, what: &dyn Debug) {
        use std::fmt::Write as _;
        if let Some(text) = &mut self.0 {
            // Writing to a text does not fail.
            let _ = writeln!(text, "{what:?}");
        }
    }
}

/// One of them.
pub struct Target {
    /// Its name: of its corpus, and of its program.
    pub name: &'static str,
    /// The most memory that it may take.
    pub room: Room,
    run: fn(&[u8], Room, &mut Told),
}

impl Target {
    /// Feeds it.
    ///
    /// # Panics
    /// When something is wrong that the bytes are not to blame for.
    pub fn feed(&self, bytes: &[u8], told: &mut Told) {
        (self.run)(bytes, self.room, told);
    }
}

macro_rules! targets {
    ($($(#[$doc:meta])* $constant:ident $name:literal, room $times:literal + $more:literal, $run:path;)*) => {
        $(
            $(#[$doc])*
            pub static $constant: Target = Target {
                name: $name,
                room: Room { times: $times, more: $more },
                run: $run,
            };
        )*
        /// Every one.
        pub static TARGETS: &[&Target] = &[$(&$constant),*];
    };
}

targets! {
    /// A record file: a question, an answer and a backup are such files too.
    RECORD "record", room 64 + 16384, files::record;
    /// A procedure file.
    PROCEDURE "procedure", room 64 + 16384, files::procedure;
    /// A specification file.
    SPECIFICATION "specification", room 64 + 16384, files::specification;
    /// What was said, in every language.
    SPOKEN "spoken", room 64 + 65536, numbers::spoken;
    /// What was typed, in every language, on the keyboard and on the pad.
    TYPED "typed", room 64 + 8192, numbers::typed;
    /// Texts of the record on their way into a CSV file, read by another program.
    CSV "csv", room 64 + 65536, leaving::csv;
    /// A zip file that we write, read by another program.
    ZIP "zip", room 128 + 4096, leaving::zip;
    /// A photo.
    PHOTO "photo", room 3 + 1024, pieces::photo;
    /// What a folder's server says that it holds.
    LISTING "listing", room 16 + 4096, pieces::listing_of;
    /// What was taught to the recogniser.
    TAUGHT "taught", room 64 + 4096, pieces::taught;
    /// Small texts: names, days, keys, drawn signatures, rows of holes, what was sent.
    SMALL "small", room 32 + 4096, pieces::small;
}

/// Bytes as a text, the way a browser reads a file.
fn text(bytes: &[u8]) -> Cow<'_, str> {
    String::from_utf8_lossy(bytes)
}
