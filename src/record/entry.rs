//! One entry of the record, and the closed list of what an entry can say.

use std::sync::Arc;

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::{
    About, AirframeDetails, Deviation, DeviationAnswer, Instrument, LaidOutHoles, MarkedHole, OpenItem, Photo,
    Question, Remark, Reversal, Role, Seal, SpecValue, TimeSpent,
};
use crate::quantity::Quantity;

/// Longest text, in bytes, that any one field of an entry may hold. Longer is refused on import and cut at the keyboard.
pub const MAX_TEXT: usize = 4_000;

/// Longest procedure file, in bytes, that is kept or looked at.
pub const MAX_PROCEDURE: usize = 256_000;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Uuid);

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.fmt(f)
            }
        }

        impl std::str::FromStr for $name {
            type Err = uuid::Error;
            fn from_str(s: &str) -> Result<Self, Self::Err> {
                s.parse().map(Self)
            }
        }
    };
}

id!(
    /// Names one entry. A UUIDv7, so that ids sort by the time at which the device made them.
    EntryId
);
id!(
    /// Names one airframe: the id of nothing else. Made together with the [`Body::AirframeMade`] entry.
    AirframeId
);
id!(
    /// Names one run of a procedure on one airframe.
    RunId
);

/// The *pilot's* left or right, seated and facing forward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// Pilot's left: negative buttock line.
    Left,
    /// Pilot's right: positive buttock line.
    Right,
}

impl Side {
    /// The other side.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// The word: "left" or "right".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// A step of a run by its path in the procedure: `"level-frame"`, or `"clamped/pitch"` for the pitch step of the pass at the
/// gate "clamped".
pub type StepPath = String;

/// One number that one person read off one instrument at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// The run that it belongs to.
    pub run: RunId,
    /// The step of the procedure.
    pub step: StepPath,
    /// Which of the step's readings this is: `"left"`, `"reversed"`, …
    pub slot: String,
    /// The number as entered. Signed by the slot's physical question (for example tail end high is plus).
    pub value: Quantity,
    /// What it was read with.
    pub instrument: Instrument,
    /// What the pad asked before it was kept, where it asked: the reader said that this is what was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked: Option<String>,
}

/// Something was moved by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MovedAdjuster {
    /// The run during which it was moved.
    pub run: RunId,
    /// The step at which it was moved.
    pub step: StepPath,
    /// Which adjuster of the procedure.
    pub adjuster: String,
    /// How far, signed along the adjuster's own positive direction: block forward, saddle up, right side of the saddle up,
    /// joint opened.
    pub amount: Quantity,
}

/// What an entry says. Closed: a file that says anything else is of a newer version and is refused whole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Body {
    /// An airframe was added to the hangar.
    AirframeMade {
        /// Its type, serial, builder, units.
        details: AirframeDetails,
    },
    /// One item of the rigging specification was entered, changed or blanked.
    SpecificationSet {
        /// Which item, by the procedure's key.
        key: String,
        /// Its number, tolerance or choice; blank means "not judged".
        value: SpecValue,
        /// Page and revision of the manual that it was copied from.
        source: String,
    },
    /// A second person read an item of the specification in the manual, without seeing what was entered, and found the same.
    SpecificationReread {
        /// Which item.
        key: String,
        /// The entry that set it: any other that sets it has to be read again.
        entry: EntryId,
    },
    /// An instrument was accepted for use on this airframe.
    InstrumentAccepted {
        /// Its role in the procedure: `"protractor"`, `"tape"`, …
        role: String,
        /// What it is.
        instrument: Instrument,
    },
    /// An instrument was turned end for end on one spot.
    InstrumentReversed {
        /// Its role in the procedure.
        role: String,
        /// The two readings.
        reversal: Reversal,
    },
    /// A run of a procedure began.
    RunStarted {
        /// The new run.
        run: RunId,
        /// The procedure's id.
        procedure: String,
        /// The version that the run stays on.
        version: u32,
        /// The procedure file itself, so that the run can be read as it was whatever becomes of the procedure.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        file: Option<Arc<str>>,
    },
    /// A procedure was written, changed or taken in for this airframe: its own version from now on, until a later one or until this
    /// entry is struck out.
    ProcedureKept {
        /// The procedure's id.
        procedure: String,
        /// Its version.
        version: u32,
        /// The procedure file.
        file: Arc<str>,
    },
    /// A step that is done, not measured, was confirmed.
    StepConfirmed {
        /// The run.
        run: RunId,
        /// The step.
        step: StepPath,
    },
    /// A reading was taken.
    ReadingTaken(Reading),
    /// An adjuster was moved.
    AdjusterMoved(MovedAdjuster),
    /// Things were counted: holes drilled, rivets set.
    Counted {
        /// The run.
        run: RunId,
        /// The step.
        step: StepPath,
        /// How many are done and good.
        good: u32,
        /// How many are bad and need an answer.
        bad: u32,
    },
    /// A map of holes or rivets was laid out, or laid out anew.
    HolesLaidOut(LaidOutHoles),
    /// One hole of a map was marked.
    HoleMarked(MarkedHole),
    /// A hold point was signed.
    HoldSigned {
        /// The run.
        run: RunId,
        /// The hold point.
        step: StepPath,
        /// Who signed, as they wrote their name.
        name: String,
        /// The signature as it was drawn: strokes of points in a box 300 wide and 100 high, `"x,y x,y;x,y x,y"`.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        drawn: Option<Arc<str>>,
    },
    /// Somebody who works on the airframe, or answers for it, was named.
    PersonNamed {
        /// The name.
        name: String,
        /// What they are to it. The last word on a name counts.
        role: Role,
    },
    /// This device signs with this key from here on, in this airframe's record.
    KeyMade {
        /// The Ed25519 public key, 32 bytes, base64url.
        key: String,
        /// Why there is a new one, when there was one before.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lost: Option<String>,
    },
    /// A note was made.
    NoteMade {
        /// What it is about.
        about: About,
        /// The note.
        text: String,
        /// It was spoken, not typed.
        spoken: bool,
    },
    /// A photo was taken.
    PhotoAttached {
        /// What it is about.
        about: About,
        /// The photo.
        photo: Photo,
        /// What it shows.
        caption: String,
    },
    /// A departure from a limit was put to somebody.
    DeviationRaised(Deviation),
    /// It was answered.
    DeviationAnswered(DeviationAnswer),
    /// Something was found that is left to do.
    ItemOpened(OpenItem),
    /// It was done.
    ItemClosed {
        /// The entry that opened it.
        item: EntryId,
        /// How.
        how: String,
    },
    /// Time was spent that the entries do not tell of.
    TimeSpent(TimeSpent),
    /// Somebody who is not there was asked.
    QuestionAsked(Question),
    /// Somebody who was not there said something.
    RemarkMade(Remark),
    /// An earlier entry was struck out. It stays legible; folds pass it over.
    Struck {
        /// The entry struck out.
        entry: EntryId,
        /// Why.
        reason: String,
    },
}

/// One entry of the record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Its own name.
    pub id: EntryId,
    /// The airframe that it is about.
    pub airframe: AirframeId,
    /// Wall-clock time on the device, RFC 3339 with offset.
    #[serde(with = "super::time")]
    pub at: DateTime<FixedOffset>,
    /// Who was at the phone.
    pub by: String,
    /// Which device made it.
    pub device: Uuid,
    /// What it says.
    pub body: Body,
    /// Its place in the chain of what the device wrote of the airframe. Entries of record versions 1 to 3 have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seal: Option<Seal>,
}

impl Entry {
    /// The run that the entry belongs to, if it belongs to one.
    #[must_use]
    pub fn run(&self) -> Option<RunId> {
        match &self.body {
            Body::RunStarted { run, .. }
            | Body::StepConfirmed { run, .. }
            | Body::Counted { run, .. }
            | Body::HoldSigned { run, .. }
            | Body::ReadingTaken(Reading { run, .. })
            | Body::AdjusterMoved(MovedAdjuster { run, .. })
            | Body::HolesLaidOut(LaidOutHoles { run, .. })
            | Body::HoleMarked(MarkedHole { run, .. }) => Some(*run),
            Body::AirframeMade { .. }
            | Body::ProcedureKept { .. }
            | Body::SpecificationSet { .. }
            | Body::SpecificationReread { .. }
            | Body::InstrumentAccepted { .. }
            | Body::InstrumentReversed { .. }
            | Body::PersonNamed { .. }
            | Body::KeyMade { .. }
            | Body::DeviationAnswered(_)
            | Body::ItemClosed { .. }
            | Body::Struck { .. } => None,
            _ => self.about()?.run,
        }
    }

    /// The deviation that it answers, or what was left to do and it closes.
    #[must_use]
    pub const fn replies_to(&self) -> Option<EntryId> {
        match &self.body {
            Body::DeviationAnswered(answer) => Some(answer.deviation),
            Body::ItemClosed { item, .. } => Some(*item),
            _ => None,
        }
    }

    /// What a statement is about.
    #[must_use]
    pub const fn about(&self) -> Option<&About> {
        match &self.body {
            Body::NoteMade { about, .. }
            | Body::PhotoAttached { about, .. }
            | Body::DeviationRaised(Deviation { about, .. })
            | Body::ItemOpened(OpenItem { about, .. })
            | Body::TimeSpent(TimeSpent { about, .. })
            | Body::QuestionAsked(Question { about, .. })
            | Body::RemarkMade(Remark { about, .. }) => Some(about),
            _ => None,
        }
    }

    /// Whether its device signs it ([`Body::is_signed`]).
    #[must_use]
    pub const fn is_signed(&self) -> bool {
        self.body.is_signed()
    }
}

impl Body {
    /// Whether the device signs an entry that says this: what somebody answers for with their name.
    #[must_use]
    pub const fn is_signed(&self) -> bool {
        matches!(
            self,
            Self::HoldSigned { .. } | Self::RemarkMade(_) | Self::DeviationAnswered(_) | Self::KeyMade { .. }
        )
    }
}
