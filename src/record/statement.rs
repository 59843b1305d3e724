//! What people say, show and ask, beside what they measure.

use std::fmt;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::{Digest, EntryId, MovedAdjuster, RunId, StepPath};
use crate::language::words;

/// What somebody is to the airframe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// Builds it and answers for it.
    Builder,
    /// Lends a hand or reads an instrument.
    Helper,
    /// Knows the type: the kit's factory, an experienced builder.
    Mentor,
    /// Inspects it for an authority or an association.
    Inspector,
}

impl Role {
    /// All roles, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Builder, Self::Helper, Self::Mentor, Self::Inspector];

    /// Its name in choices: "builder".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Builder => "builder",
            Self::Helper => "helper",
            Self::Mentor => "mentor",
            Self::Inspector => "inspector",
        }
    }

    /// What it is called, with a large first letter.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Builder => words!("Builder"),
            Self::Helper => words!("Helper"),
            Self::Mentor => words!("Mentor"),
            Self::Inspector => words!("Inspector"),
        }
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Builder => words!("builder"),
            Self::Helper => words!("helper"),
            Self::Mentor => words!("mentor"),
            Self::Inspector => words!("inspector"),
        })
    }
}

/// What something is about: a run, one of its steps, one entry, or, with nothing named, the airframe.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct About {
    /// The run.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunId>,
    /// The step of that run.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<StepPath>,
    /// The entry: a reading, a question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<EntryId>,
}

/// A photo, kept beside the record under the digest of its bytes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Photo {
    /// SHA-256 of the JPEG file.
    pub digest: Digest,
    /// Size of the file.
    pub bytes: u32,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
}

/// A departure from a limit that a person asks to have accepted: what was found, what was asked for, and why it should stand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Deviation {
    /// What it is about: the step whose check is out.
    pub about: About,
    /// What was found, as the screen said it.
    pub found: String,
    /// What the specification asks for, as the screen said it.
    pub limit: String,
    /// Why it should stand.
    pub reason: String,
    /// Who was asked.
    pub asked: String,
}

/// An answer to a [`Deviation`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeviationAnswer {
    /// The entry that raised it.
    pub deviation: EntryId,
    /// Whether it may stand.
    pub accepted: bool,
    /// Who answered.
    pub name: String,
    /// The answer, word for word.
    pub answer: String,
}

/// Something that is left to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OpenItem {
    /// What it is about.
    pub about: About,
    /// What is to be done.
    pub what: String,
    /// The step of the same run that stays shut until it is done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blocks: Option<StepPath>,
}

/// Time spent that the entries do not tell of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TimeSpent {
    /// What it was spent on.
    pub about: About,
    /// The day.
    #[serde(with = "super::time::plain_day")]
    pub day: NaiveDate,
    /// How long.
    pub minutes: u32,
    /// What was done.
    pub what: String,
}

/// A question to somebody who is not there.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// What it is about.
    pub about: About,
    /// The question.
    pub question: String,
    /// Who is asked.
    pub to: String,
}

/// What somebody who was not there says on the record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Remark {
    /// What it is about.
    pub about: About,
    /// The question that it answers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answers: Option<EntryId>,
    /// The remark.
    pub text: String,
    /// A move that is proposed. It is not made by being proposed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub proposes: Option<MovedAdjuster>,
}
