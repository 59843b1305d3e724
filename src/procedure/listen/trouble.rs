//! Why the phone did not hear.

use std::fmt;

use crate::language::words;

/// Why nothing was heard. `Display` says what to do; the keys work in every case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deaf {
    /// The person, or the browser's settings, refused the microphone.
    NotAllowed,
    /// The browser refuses its own recogniser to pages such as this.
    ServiceNotAllowed,
    /// The recogniser needs a network.
    Network,
    /// There is no microphone, or another program has it.
    NoMicrophone,
    /// The recogniser does not know the language.
    Language,
    /// It ended, and nobody had spoken.
    Silence,
    /// The recogniser takes no phrases: without them it may listen.
    Phrases,
    /// The app's own recogniser could not be fetched.
    NotFetched,
    /// The browser hands the app no sound.
    NoWorklet,
    /// Nothing is taught, or what was taught cannot be read.
    NotTaught,
    /// It would not begin.
    WouldNot,
    /// Anything else.
    Broken,
}

impl Deaf {
    /// By the code of the Web Speech API (`SpeechRecognitionErrorCode`); `None` where it was broken off from here, which needs no words.
    #[must_use]
    pub fn of(code: &str) -> Option<Self> {
        Some(match code {
            "aborted" => return None,
            "not-allowed" => Self::NotAllowed,
            "service-not-allowed" => Self::ServiceNotAllowed,
            "network" => Self::Network,
            "audio-capture" => Self::NoMicrophone,
            "language-not-supported" => Self::Language,
            "no-speech" => Self::Silence,
            "phrases-not-supported" => Self::Phrases,
            _ => Self::Broken,
        })
    }

    /// By the name of what `getUserMedia` was refused with (Media Capture and Streams).
    #[must_use]
    pub fn of_microphone(name: &str) -> Self {
        match name {
            "NotAllowedError" | "SecurityError" => Self::NotAllowed,
            "NotFoundError" | "NotReadableError" | "OverconstrainedError" | "AbortError" => Self::NoMicrophone,
            _ => Self::Broken,
        }
    }
}

impl fmt::Display for Deaf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotAllowed => {
                words!("The microphone is not allowed here. Allow it in the browser's settings for this page, or use the keys.")
            }
            Self::ServiceNotAllowed => {
                words!("This browser does not let the app use its recogniser. Use the keys, or teach the app your words.")
            }
            Self::Network => {
                words!("The recogniser needs a network, and there is none. Use the keys, or teach the app your words.")
            }
            Self::NoMicrophone => words!("There is no microphone free. End what uses it, or use the keys."),
            Self::Language => words!("The recogniser does not know this language. Use the keys, or teach the app your words."),
            Self::NotFetched => {
                words!("The recogniser is not on this phone yet, and fetching it needs a network once. Use the keys until then.")
            }
            Self::NoWorklet => words!("This browser does not hand the app the microphone's sound. Use the keys, or another browser."),
            Self::NotTaught => words!("No words are taught yet: teach them in the settings. Until then use the keys."),
            Self::Silence => words!("Nothing was heard. Press, then speak close to the phone."),
            Self::Phrases | Self::WouldNot => words!("The browser would not listen. Press once more, or use the keys."),
            Self::Broken => words!("The recogniser failed. Press once more, or use the keys."),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The codes of the Web Speech API specification, section 4.1.8, as its draft lists them (from memory).
    #[test]
    fn every_code_says_what_to_do() {
        let codes = [
            "no-speech",
            "audio-capture",
            "network",
            "not-allowed",
            "service-not-allowed",
            "language-not-supported",
            "phrases-not-supported",
            "bad-grammar",
            "",
        ];
        for code in codes {
            let words = Deaf::of(code).expect("words").to_string();
            assert!(words.contains("keys") || words.contains("Press"), "{code}: {words}");
        }
        assert_eq!(Deaf::of("aborted"), None);
        assert_eq!(Deaf::of_microphone("NotAllowedError"), Deaf::NotAllowed);
        assert_eq!(Deaf::of_microphone("NotFoundError"), Deaf::NoMicrophone);
        assert_eq!(Deaf::of_microphone("Anything"), Deaf::Broken);
    }
}
