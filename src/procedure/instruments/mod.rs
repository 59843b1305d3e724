//! Instruments: what is usually at hand, what is typed of one, and what is said of its state.

mod describe;
mod long_pull;
mod presets;
mod reversal;
mod state;

pub use describe::{InstrumentDraft, InstrumentError, describe, draft_of_instrument};
pub use long_pull::{LongPull, LongPullError};
pub use presets::{Preset, presets};
pub use reversal::{reversal_slots, reversed, zero_of};
pub(in crate::procedure) use state::last_mode;
pub use state::{instrument_for, instrument_now, instrument_words, reversal_words, state_words};
