//! A record as files that leave the phone, and back: JSON both ways, CSV out.
//!
//! Everything that comes in is hostile until it is parsed: size-limited, typed, and refused whole when any part of it is not
//! understood. Deliberately absent: a way to read half a file.

mod csv_out;
mod json;
mod lines;
mod name;

pub use csv_out::{COLUMNS, readings_csv};
pub use json::{FORMAT, ImportError, MAX_BYTES, VERSION, read_json, write_json};
pub use lines::{Line, lines};
pub use name::file_name;
