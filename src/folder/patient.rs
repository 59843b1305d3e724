//! Asking again where that may help: each time later, and never for ever.

use super::trouble::Trouble;
use super::wire::{Answer, Request, Wire};

/// How often one request is made before its failure is said.
pub const TRIES: u32 = 6;
/// The first wait, in milliseconds; each further one is twice as long.
const FIRST: u32 = 500;
/// The longest wait, in milliseconds, whatever the server asks for.
const LONGEST: u32 = 20_000;

/// The first answer that is worth an answer.
///
/// # Errors
/// [`Trouble::NoAnswer`] when the connection broke each time. A server that fails each time is handed out as it last answered.
pub(super) async fn ask(wire: &impl Wire, request: &Request<'_>) -> Result<Answer, Trouble> {
    let mut last = Err(Trouble::NoAnswer);
    for attempt in 0..TRIES {
        last = match wire.send(request).await {
            Ok(answer) if !passing(answer.status) => return Ok(answer),
            Ok(answer) => Ok(answer),
            Err(_) => Err(Trouble::NoAnswer),
        };
        if attempt + 1 < TRIES {
            let asked_for = last.as_ref().ok().and_then(|answer| answer.retry_after);
            wire.pause(wait(attempt, wire.chance(), asked_for)).await;
        }
    }
    last
}

/// Whether a status may be another one a little later (RFC 9110, sections 15.5.9 and 15.6; RFC 4918, section 11.3; RFC 6585, section 4).
const fn passing(status: u16) -> bool {
    matches!(status, 408 | 423 | 425 | 429 | 500 | 502 | 503 | 504)
}

/// How long to wait after so many failures, in milliseconds: twice as long each time, somewhere in the upper half of that; as long as the
/// server asks for when it asks.
fn wait(failures: u32, chance: f64, asked_for: Option<u32>) -> u32 {
    let most = FIRST.saturating_mul(1 << failures.min(10)).min(LONGEST);
    let half = most / 2;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1 of a few thousand")]
    let by_chance = half + (f64::from(half) * chance.clamp(0.0, 1.0)) as u32;
    asked_for.map_or(by_chance, |seconds| by_chance.max(seconds.saturating_mul(1000))).min(LONGEST)
}

#[cfg(test)]
mod tests {
    use super::{LONGEST, wait};

    #[test]
    fn waits_grow_and_end() {
        assert_eq!((wait(0, 0.0, None), wait(0, 1.0, None)), (250, 500));
        assert_eq!((wait(3, 0.0, None), wait(3, 1.0, None)), (2_000, 4_000));
        assert_eq!(wait(99, 1.0, None), LONGEST);
        assert_eq!(wait(0, 0.5, Some(3)), 3_000);
        assert_eq!(wait(0, 0.5, Some(u32::MAX)), LONGEST);
    }
}
