//! The synthesised voices that the recogniser is tested with, on a machine that may have none of them.

use anyhow::Result;

use crate::debian::{self, Need};

const VOICES: [Need; 6] = [
    ("espeak-ng", "espeak-ng"),
    ("flite", "flite"),
    ("festival", "festival"),
    ("/usr/share/festival/voices/english/kal_diphone", "festvox-kallpc16k"),
    ("/usr/share/festival/voices/english/ked_diphone", "festvox-kdlpc16k"),
    ("/usr/share/festival/voices/us/cmu_us_slt_arctic_hts", "festvox-us-slt-hts"),
];

/// Installs what is missing when we may.
///
/// # Errors
/// As [`debian::see_to`].
pub(crate) fn prepare() -> Result<()> {
    debian::see_to(&VOICES, "the test of hearing")
}
