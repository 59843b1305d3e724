//! Instruments: what is usually at hand, what is typed of one, and what is said of its state.

mod describe;
mod presets;
mod reversal;
mod state;

pub use describe::{InstrumentDraft, InstrumentError, describe, draft_of_instrument};
pub use presets::{Preset, presets};
pub use reversal::{reversal_slots, reversed, zero_of};
pub use state::{instrument_now, instrument_words, mode_words, overdue_words, reversal_words};
