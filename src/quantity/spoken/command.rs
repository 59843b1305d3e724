//! What can be said instead of a number.

use super::tongue;
use crate::language::Language;

/// A command. It is a whole utterance, never a part of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// On to the next step.
    Next,
    /// Back to the step before.
    Back,
    /// Say it again.
    Again,
    /// Keep the reading that was read back.
    Keep,
    /// Strike the reading that was read back or kept last.
    Strike,
    /// Begin to listen for numbers.
    Listen,
    /// Stop listening for anything but [`Command::Listen`].
    Rest,
    /// The answer to a reading that was read back: that is it.
    Yes,
    /// The answer to a reading that was read back: that is not it.
    No,
    /// What the step asks for is done.
    Done,
}

const COMMANDS: [(&str, Command); 40] = [
    ("next", Command::Next),
    ("next step", Command::Next),
    ("next one", Command::Next),
    ("go on", Command::Next),
    ("continue", Command::Next),
    ("back", Command::Back),
    ("go back", Command::Back),
    ("step back", Command::Back),
    ("previous", Command::Back),
    ("previous step", Command::Back),
    ("again", Command::Again),
    ("say again", Command::Again),
    ("say that again", Command::Again),
    ("say it again", Command::Again),
    ("repeat", Command::Again),
    ("repeat that", Command::Again),
    ("keep", Command::Keep),
    ("keep it", Command::Keep),
    ("keep that", Command::Keep),
    ("keep this", Command::Keep),
    ("yes keep it", Command::Keep),
    ("strike", Command::Strike),
    ("strike it", Command::Strike),
    ("strike that", Command::Strike),
    ("strike this", Command::Strike),
    ("scratch that", Command::Strike),
    ("listen", Command::Listen),
    ("start listening", Command::Listen),
    ("listen now", Command::Listen),
    ("rest", Command::Rest),
    ("rest now", Command::Rest),
    ("stop listening", Command::Rest),
    ("yes", Command::Yes),
    ("yes it is", Command::Yes),
    ("that is right", Command::Yes),
    ("no", Command::No),
    ("wrong", Command::No),
    ("that is wrong", Command::No),
    ("done", Command::Done),
    ("that is done", Command::Done),
];

/// The command that was said: nothing else may be said with it but "um" before and after.
pub(super) fn command(language: Language, said: &str) -> Option<Command> {
    if language != Language::English {
        let folded = tongue::folded(said);
        let words: Vec<&str> = folded.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        let first = words.iter().position(|word| !tongue::is_filler(word))?;
        let last = words.iter().rposition(|word| !tongue::is_filler(word))?;
        return tongue::command(language, &words[first..=last].join(" "));
    }
    let is_filler = |word: &str| matches!(word, "um" | "uh" | "er" | "erm");
    let lower = said.to_ascii_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let first = words.iter().position(|word| !is_filler(word))?;
    let last = words.iter().rposition(|word| !is_filler(word))?;
    let phrase = words[first..=last].join(" ");
    COMMANDS.iter().find(|(spoken, _)| *spoken == phrase).map(|&(_, command)| command)
}
