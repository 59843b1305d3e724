//! Words as large as a room allows.

/// How words stand in a room.
#[derive(Clone, Debug, PartialEq)]
pub struct Arranged {
    /// How many words stand on each line, the uppermost first.
    pub lines: Vec<usize>,
    /// Size of the lettering, in the room's unit.
    pub size: f64,
    /// The base line of each line, from the room's upper edge.
    pub baselines: Vec<f64>,
}

impl Arranged {
    /// The words of each line.
    #[must_use]
    pub fn on_lines(&self, words: &[String]) -> Vec<String> {
        let mut rest = words;
        let mut lines = Vec::new();
        for count in &self.lines {
            let (line, after) = rest.split_at((*count).min(rest.len()));
            lines.push(line.join(" "));
            rest = after;
        }
        lines
    }
}

/// From one base line to the next, in sizes. Numbers have nothing below the line, so that lines may stand close.
const LEADING: f64 = 1.0;
/// Height of a digit or a capital, in sizes.
const CAPITAL: f64 = 0.76;
/// How far a letter hangs below its line, in sizes; between the lines there is room for that.
const HANGS: f64 = 0.24;
/// How much of the room the letters may fill: another font than the one that was measured may be a little wider.
const FILLED: f64 = 0.94;
/// More words than this stand on one line: every way to break the others is tried.
const MOST: usize = 8;

/// How far words hang below their line, in sizes: nothing for digits and capitals.
#[must_use]
pub fn hang(words: &[String]) -> f64 {
    let hangs = |letter: char| letter.is_alphabetic() && "gjpqyçş".contains(letter) || ",;()".contains(letter);
    if words.iter().any(|word| word.contains(hangs)) { HANGS } else { 0.0 }
}

/// Breaks words into the lines in which they become largest. `widths`: of each word at size 1; `space`: between two words, at
/// size 1; `below`: how far they hang below their line ([`hang`]); `room`: width and height. A room or a word without extent gives size 0.
#[must_use]
pub fn arrange(widths: &[f64], space: f64, below: f64, room: (f64, f64)) -> Arranged {
    let breaks = widths.len().min(MOST).saturating_sub(1);
    let ways = if widths.len() > MOST { 1 } else { 1_u32 << breaks };
    let mut best = Arranged { lines: vec![widths.len()], size: 0.0, baselines: vec![0.0] };
    for way in 0..ways {
        let lines = lines_of(widths.len(), way);
        let size = size_of(widths, &lines, (space, below), room);
        // Of two that are as large the one with fewer lines: it comes first.
        if size > best.size * 1.001 {
            best = Arranged { lines, size, baselines: Vec::new() };
        }
    }
    let count = best.lines.len() as f64;
    let height = ((count - 1.0) * LEADING + CAPITAL + below) * best.size;
    let first = (room.1 - height) / 2.0 + CAPITAL * best.size;
    best.baselines = (0..best.lines.len()).map(|line| first + line as f64 * LEADING * best.size).collect();
    best
}

/// The lines of `count` words where each bit of `way` says whether a line ends after that word.
fn lines_of(count: usize, way: u32) -> Vec<usize> {
    let mut lines = Vec::new();
    let mut on_line = 0;
    for word in 0..count {
        on_line += 1;
        if word + 1 == count || way & (1 << word) != 0 {
            lines.push(on_line);
            on_line = 0;
        }
    }
    lines
}

fn size_of(widths: &[f64], lines: &[usize], (space, below): (f64, f64), room: (f64, f64)) -> f64 {
    let mut rest = widths;
    let mut widest = 0.0_f64;
    for count in lines {
        let (line, after) = rest.split_at(*count);
        widest = widest.max(line.iter().sum::<f64>() + space * (*count as f64 - 1.0));
        rest = after;
    }
    let high = (lines.len() as f64 - 1.0) * LEADING + CAPITAL + below;
    let size = FILLED * (room.0 / widest).min(room.1 / high);
    if size.is_finite() && widest > 0.0 { size.max(0.0) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every line in the room, whatever the words: nothing runs over an edge.
    fn inside(widths: &[f64], room: (f64, f64)) -> Arranged {
        for below in [0.0, HANGS] {
            let found = arrange(widths, 0.25, below, room);
            let lowest = found.baselines.iter().fold(0.0_f64, |lowest, base| lowest.max(base + below * found.size));
            assert!(lowest <= room.1 + 1e-9, "{widths:?} in {room:?}: {found:?}");
        }
        let found = arrange(widths, 0.25, 0.0, room);
        let mut rest = widths;
        for count in &found.lines {
            let (line, after) = rest.split_at(*count);
            let width = (line.iter().sum::<f64>() + 0.25 * (line.len() as f64 - 1.0)) * found.size;
            assert!(width <= room.0 + 1e-9, "{widths:?} in {room:?}: {found:?}");
            rest = after;
        }
        assert!(rest.is_empty(), "every word stands on a line");
        let (top, bottom) = (found.baselines[0] - CAPITAL * found.size, found.baselines[found.lines.len() - 1]);
        assert!(top >= -1e-9 && bottom <= room.1 + 1e-9, "{widths:?} in {room:?}: {found:?}");
        found
    }

    #[test]
    fn a_long_number_breaks_on_a_narrow_screen_and_not_on_a_wide_one() {
        // "227", "11/16", "in", about as wide as a usual font has them.
        let number = [1.67, 2.5, 0.85];
        let upright = inside(&number, (320.0, 400.0));
        assert_eq!(upright.lines, [1, 1, 1]);
        assert!(upright.size > 110.0, "{upright:?}");
        assert_eq!(inside(&number, (640.0, 110.0)).lines, [3]);
        assert!(inside(&number, (640.0, 250.0)).lines.len() <= 2);
    }

    #[test]
    fn one_word_is_as_large_as_the_room() {
        let found = inside(&[2.5], (250.0, 1_000.0));
        assert!((found.size - 94.0).abs() < 1e-9, "{found:?}");
        assert!((inside(&[2.5], (1_000.0, 76.0)).size - 94.0).abs() < 1e-9, "as high as its capitals");
    }

    #[test]
    fn digits_hang_nowhere_and_a_y_does() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(
            ["227 11/16 in", "−2.6°", "typed", "not judged"].map(|text| hang(&words(text)) > 0.0),
            [false, false, true, true]
        );
    }

    #[test]
    fn nothing_to_show_and_no_room_have_no_size() {
        for (widths, room) in [(&[][..], (100.0, 100.0)), (&[1.0][..], (0.0, 100.0)), (&[0.0][..], (100.0, 100.0))] {
            assert_eq!(arrange(widths, 0.25, 0.0, room).size, 0.0, "{widths:?} in {room:?}");
        }
        assert_eq!(inside(&[1.0; 12], (300.0, 300.0)).lines, [12], "a sentence is not broken");
    }
}
