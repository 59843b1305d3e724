//! A record as files that leave the phone, and back: JSON both ways, CSV out.
//!
//! Everything that comes in is hostile until it is parsed: size-limited, typed, and refused whole when any part of it is not
//! understood. Deliberately absent: a way to read half a file.

mod asked;
mod backup;
mod bundle;
mod counted;
mod csv_out;
mod desk;
mod json;
mod left;
mod lines;
mod name;
mod page;
mod parcel;
mod question;
mod record_file;
mod specification_file;
mod take_in;
mod unbroken;
mod work_log;

pub use asked::{Asked, Movable, RawReading, Said, movables, questions, raw_readings, remarks, unanswered};
pub use backup::{
    Sent, backup_words, megabytes, note_sent, photos_of, photos_words, read_sent, sent_on, sent_text, sent_with,
    storage_words, unsent,
};
pub use bundle::{Sum, Zip, bundle_texts, bundled_photo};
pub use csv_out::{COLUMNS, readings_csv};
pub use desk::{OnDesk, OneOf, Pending, Spread, on_desk, pending, spreads, types};
pub use json::{FORMAT, ImportError, MAX_BYTES, VERSION, read_json, write_json};
pub use left::{Left, LeftKind, answer_to, departure_at, left_at, left_to_do, steps_ahead};
pub use lines::{Line, latest_lines, lines, lines_about, lines_of, when};
pub use name::file_name;
pub use page::{Piece, Printed, printed};
pub use parcel::{Parcel, Pieces, made_words, making_words, pieces_of};
pub use question::{MAX_QUESTION, answer, extract, not_sent, photos_about, question_name, size_words, with_photos};
pub use record_file::{RecordFile, read_record, write_record};
pub use specification_file::{
    MAX_SPECIFICATION_BYTES, SPECIFICATION_FORMAT, SPECIFICATION_VERSION, SpecificationError, SpecificationFile,
    SpecificationLine, read_specification, write_specification,
};
pub use take_in::{Change, Offer, Refused, bodies, offer};
pub use unbroken::{Checked, Wholeness};
pub use work_log::{
    LONGEST_DAY, LONGEST_PAUSE, WORK_COLUMNS, Worked, time_spent, time_words, work_days, work_log, work_log_csv,
    work_sum,
};
