//! Shapes, and the two kinds of thing that they are drawn with: a path and a piece of lettering.

use super::path;

/// What a shape stands for. The stylesheet gives each its line; the meaning never hangs on the colour alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// The forward frame.
    Frame,
    /// The cone: the aft fuselage.
    Cone,
    /// Lattice, stations and other lines inside a part.
    Inner,
    /// Trestles, saddle, block, bench and floor.
    Support,
    /// Centre line, string, straightedge, level, and what is measured but not now.
    Reference,
    /// What is read now.
    Reading,
    /// What to move, which way.
    Move,
    /// Where a part would lie by the sheet.
    Ghost,
    /// Lettering that explains.
    Note,
    /// Where the reader stands.
    You,
    /// The tolerance as an area.
    Band,
    /// A limit.
    Post,
    /// The reading's bar in the verdict's mark.
    Bar,
}

impl Ink {
    /// Its class in the stylesheet.
    #[must_use]
    pub const fn class(self) -> &'static str {
        match self {
            Self::Frame => "ink-frame",
            Self::Cone => "ink-cone",
            Self::Inner => "ink-inner",
            Self::Support => "ink-support",
            Self::Reference => "ink-reference",
            Self::Reading => "ink-reading",
            Self::Move => "ink-move",
            Self::Ghost => "ink-ghost",
            Self::Note => "ink-note",
            Self::You => "ink-you",
            Self::Band => "ink-band",
            Self::Post => "ink-post",
            Self::Bar => "ink-bar",
        }
    }
}

/// Which point of the lettering stands at its x; its y is the baseline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The left end.
    Start,
    /// The middle.
    Middle,
    /// The right end.
    End,
}

impl Anchor {
    /// The value of `text-anchor`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }

    /// How much of the lettering's width lies left of its x.
    pub(super) const fn share(self) -> f64 {
        match self {
            Self::Start => 0.0,
            Self::Middle => 0.5,
            Self::End => 1.0,
        }
    }
}

/// Size of lettering.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lettering {
    /// Notes.
    Small,
    /// Amounts and sides.
    Plain,
    /// L and R.
    Large,
}

impl Lettering {
    /// Its height, in units of the drawing. The stylesheet says the same.
    #[must_use]
    pub const fn size(self) -> f64 {
        match self {
            Self::Small => 14.0,
            Self::Plain => 17.0,
            Self::Large => 26.0,
        }
    }

    const fn class(self) -> &'static str {
        match self {
            Self::Small => "small",
            Self::Plain => "plain",
            Self::Large => "large",
        }
    }

    /// A wide guess of a text's width: half-bold grotesques average 0.56 of their size to a letter (from memory).
    #[must_use]
    pub fn width(self, text: &str) -> f64 {
        text.chars().count() as f64 * self.size() * 0.6
    }
}

/// One shape. x grows to the right, y down, in units of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line {
        /// One end and the other.
        ends: [(f64, f64); 2],
        /// What it stands for.
        ink: Ink,
    },
    /// A line through points.
    Polyline {
        /// Its points.
        points: Vec<(f64, f64)>,
        /// Back to its first point, and filled.
        closed: bool,
        /// What it stands for.
        ink: Ink,
    },
    /// A circle, filled.
    Circle {
        /// Its middle.
        centre: (f64, f64),
        /// Its radius.
        radius: f64,
        /// What it stands for.
        ink: Ink,
    },
    /// An arrow from its tail to its point.
    Arrow {
        /// Tail and point.
        ends: [(f64, f64); 2],
        /// What it stands for.
        ink: Ink,
    },
    /// A dimension line: a tick across and an arrowhead at either end.
    Dimension {
        /// One end and the other.
        ends: [(f64, f64); 2],
        /// What it stands for.
        ink: Ink,
    },
    /// Lettering.
    Text {
        /// Where it stands, on its baseline.
        at: (f64, f64),
        /// Which point of it stands there.
        anchor: Anchor,
        /// How large.
        lettering: Lettering,
        /// What it stands for.
        ink: Ink,
        /// The words.
        text: String,
    },
}

/// A shape as a drawing surface takes it.
#[derive(Clone, Debug, PartialEq)]
pub enum Element {
    /// A path in the language of SVG's `d`.
    Path {
        /// The path.
        d: String,
        /// Its classes.
        class: String,
    },
    /// Lettering.
    Text {
        /// Where it stands, on its baseline.
        at: (f64, f64),
        /// The value of `text-anchor`.
        anchor: &'static str,
        /// Its classes.
        class: String,
        /// The words.
        text: String,
    },
}

impl Shape {
    /// The shape as one or two elements, in the order in which to draw them.
    #[must_use]
    pub fn elements(&self) -> Vec<Element> {
        let line = |d: String, ink: Ink| Element::Path { d, class: format!("{} line", ink.class()) };
        let area = |d: String, ink: Ink| Element::Path { d, class: format!("{} area", ink.class()) };
        let tip = |d: String, ink: Ink| Element::Path { d, class: format!("{} tip", ink.class()) };
        match self {
            Self::Line { ends, ink } => vec![line(path::through(ends, false), *ink)],
            Self::Polyline { points, closed: false, ink } => vec![line(path::through(points, false), *ink)],
            Self::Polyline { points, closed: true, ink } => vec![area(path::through(points, true), *ink)],
            Self::Circle { centre, radius, ink } => vec![area(path::round(*centre, *radius), *ink)],
            Self::Arrow { ends, ink } => {
                let (shaft, head) = path::arrow(*ends);
                vec![line(shaft, *ink), tip(head, *ink)]
            }
            Self::Dimension { ends, ink } => {
                let (shaft, heads) = path::dimension(*ends);
                vec![line(shaft, *ink), tip(heads, *ink)]
            }
            Self::Text { at, anchor, lettering, ink, text } => vec![Element::Text {
                at: *at,
                anchor: anchor.word(),
                class: format!("{} {}", ink.class(), lettering.class()),
                text: text.clone(),
            }],
        }
    }

    /// The smallest box around it: left, top, right, bottom. Lettering by its guessed width.
    #[must_use]
    pub fn reach(&self) -> [f64; 4] {
        let around = |points: &[(f64, f64)], by: f64| {
            points.iter().fold(
                [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY],
                |reach, &(x, y)| {
                    [reach[0].min(x - by), reach[1].min(y - by), reach[2].max(x + by), reach[3].max(y + by)]
                },
            )
        };
        match self {
            Self::Line { ends, .. } | Self::Arrow { ends, .. } | Self::Dimension { ends, .. } => around(ends, 0.0),
            Self::Polyline { points, .. } => around(points, 0.0),
            Self::Circle { centre, radius, .. } => around(&[*centre], *radius),
            Self::Text { at, anchor, lettering, text, .. } => {
                let width = lettering.width(text);
                let left = at.0 - width * anchor.share();
                [left, at.1 - lettering.size() * 0.8, left + width, at.1 + lettering.size() * 0.25]
            }
        }
    }
}
