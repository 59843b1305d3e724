//! Hatching: parallel lines inside an outline, as a working drawing shades a part.

type Point = (f64, f64);

/// Lines at 45° inside an outline, so far apart across; `up`: rising to the right.
pub(super) fn hatch(outline: &[Point], apart: f64, up: bool) -> Vec<[Point; 2]> {
    let slope = if up { 1.0 } else { -1.0 };
    // A line of the hatching is where y + slope·x is the same.
    let level = |(x, y): Point| y + slope * x;
    let (least, most) = outline
        .iter()
        .map(|point| level(*point))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), level| (least.min(level), most.max(level)));
    let mut lines = Vec::new();
    let apart = apart * std::f64::consts::SQRT_2;
    // Counted from the sheet's corner, so that neighbouring outlines are hatched alike.
    let mut at = (least / apart).floor() * apart + apart / 2.0;
    while at < most {
        let mut cuts: Vec<Point> = Vec::new();
        for (from, to) in outline.iter().zip(outline.iter().cycle().skip(1)) {
            let (a, b) = (level(*from) - at, level(*to) - at);
            if (a < 0.0) != (b < 0.0) {
                let share = a / (a - b);
                let cut = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
                cuts.insert(cuts.partition_point(|other| other.0 < cut.0), cut);
            }
        }
        lines.extend(cuts.chunks_exact(2).map(|pair| [pair[0], pair[1]]));
        at += apart;
    }
    lines
}
