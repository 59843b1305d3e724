//! Voices that the machine has, from Debian's packages of speech synthesis; `NOTICE` names them and their licences.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

/// What speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Engine {
    /// Formant synthesis.
    EspeakNg,
    /// Joined diphones and clustered units.
    Flite,
    /// Joined diphones, and a statistical voice.
    Festival,
}

/// A voice of an engine.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Speaker {
    pub(crate) name: &'static str,
    engine: Engine,
    voice: &'static str,
    /// Mean pitch, Hz, where the engine wants it.
    pitch: f32,
}

/// How something is said.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Delivery {
    /// Length as a share of the usual.
    pub(crate) stretch: f32,
    /// Pitch as a share of the usual.
    pub(crate) pitch: f32,
}

const fn speaker(name: &'static str, engine: Engine, voice: &'static str, pitch: f32) -> Speaker {
    Speaker { name, engine, voice, pitch }
}

/// The numbers of the recogniser were found on these ...
pub(crate) const DEVELOPMENT: [Speaker; 4] = [
    speaker("espeak-us", Engine::EspeakNg, "en-us", 50.0),
    speaker("flite-slt", Engine::Flite, "slt", 170.0),
    speaker("festival-kal", Engine::Festival, "kal_diphone", 105.0),
    speaker("festival-slt-hts", Engine::Festival, "cmu_us_slt_arctic_hts", 170.0),
];
/// ... and not on these.
pub(crate) const HELD_OUT: [Speaker; 4] = [
    speaker("espeak-gb-f", Engine::EspeakNg, "en-gb+f3", 50.0),
    speaker("flite-awb", Engine::Flite, "awb", 120.0),
    speaker("flite-rms", Engine::Flite, "rms", 95.0),
    speaker("festival-ked", Engine::Festival, "ked_diphone", 105.0),
];

impl Speaker {
    /// The files in which `texts` are said, each with its delivery; made once and kept in `cache`.
    pub(crate) fn say(&self, texts: &[(String, Delivery)], cache: &Path) -> Vec<PathBuf> {
        let dir = cache.join(self.name);
        fs::create_dir_all(&dir).unwrap();
        let name = |(text, how): &(String, Delivery)| {
            let words = text.replace(|c: char| !c.is_ascii_alphanumeric(), "_");
            dir.join(format!("{words}.{:.0}.{:.0}.wav", how.stretch * 100.0, how.pitch * 100.0))
        };
        let files: Vec<PathBuf> = texts.iter().map(name).collect();
        // Tests run side by side: a file is there whole or not at all.
        let part =
            |file: &Path| file.with_extension(format!("{}.{:?}.part", std::process::id(), thread::current().id()));
        let missing: Vec<_> = texts.iter().zip(&files).filter(|(_, file)| !file.exists()).collect();
        let parts: Vec<_> = missing.iter().map(|(text, file)| (*text, part(file))).collect();
        if self.engine == Engine::Festival {
            self.festival(&parts);
        } else {
            for ((text, how), file) in &parts {
                self.one(text, *how, file);
            }
        }
        for ((_, file), (_, part)) in missing.iter().zip(&parts) {
            fs::rename(part, file).unwrap();
        }
        files
    }

    fn one(&self, text: &str, how: Delivery, file: &Path) {
        let mut command = match self.engine {
            Engine::EspeakNg => {
                let mut command = Command::new("espeak-ng");
                let (speed, pitch) = (165.0 / how.stretch, self.pitch * how.pitch.powi(3));
                command.args(["-v", self.voice, "-s", &format!("{speed:.0}"), "-p", &format!("{pitch:.0}"), "-w"]);
                command.arg(file).arg(text);
                command
            }
            _ => {
                let mut command = Command::new("flite");
                let (stretch, pitch) = (how.stretch, self.pitch * how.pitch);
                command.args(["-voice", self.voice, "--setf", &format!("duration_stretch={stretch}")]);
                command.args(["--setf", &format!("int_f0_target_mean={pitch}"), "-t", text, "-o"]).arg(file);
                command
            }
        };
        let status = command.stdout(Stdio::null()).stderr(Stdio::null()).status();
        assert!(status.is_ok_and(|status| status.success()), "{} says nothing: {}", self.name, super::INSTALL);
    }

    /// One process for all: it takes a second to start.
    fn festival(&self, wanted: &[(&(String, Delivery), PathBuf)]) {
        if wanted.is_empty() {
            return;
        }
        let mut script = format!("(voice_{})\n", self.voice);
        for ((text, how), file) in wanted {
            let pitch = self.pitch * how.pitch;
            script += &format!("(Parameter.set 'Duration_Stretch {})\n", how.stretch);
            script += &format!(
                "(set! int_lr_params '((target_f0_mean {pitch}) (target_f0_std 14) (model_f0_mean 170) (model_f0_std 34)))\n"
            );
            script +=
                &format!("(utt.save.wave (utt.synth (Utterance Text \"{text}\")) \"{}\" 'riff)\n", file.display());
        }
        let child = Command::new("festival").arg("--pipe").stdin(Stdio::piped()).stdout(Stdio::null()).spawn();
        let mut child = child.unwrap_or_else(|e| panic!("festival: {e}: {}", super::INSTALL));
        child.stdin.take().unwrap().write_all(script.as_bytes()).unwrap();
        assert!(
            child.wait().unwrap().success() && wanted.iter().all(|(_, file)| file.exists()),
            "{} says nothing",
            self.name
        );
    }
}
