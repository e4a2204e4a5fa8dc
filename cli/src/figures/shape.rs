//! What a drawing is made of.

/// A drawing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drawing {
    /// What it shows, in a few words.
    pub(crate) title: String,
    /// What can be seen in it, for those who cannot see it.
    pub(crate) description: String,
    /// Width, in the unit of its shapes; 96 of them are an inch on paper.
    pub(crate) width: f64,
    /// Height.
    pub(crate) height: f64,
    /// Its shapes, those behind first.
    pub(crate) shapes: Vec<Shape>,
}

/// A point: across from the left, down from the top.
pub(crate) type Point = (f64, f64);

/// What a line or word stands for; the media give it its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Data and their words.
    Data,
    /// Words of second rank, axes.
    Quiet,
    /// Lines that only guide the eye.
    Grid,
    /// What was fitted.
    Fit,
    /// A limit.
    Limit,
    /// The ground, for words over a pattern.
    Paper,
}

/// How a surface is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fill {
    /// With an ink.
    Ink(Ink),
    /// A light tint of the fit.
    Band,
    /// One of the patterns that tell tasks apart without colour.
    Pattern(usize),
}

/// How many patterns there are.
pub(crate) const PATTERNS: usize = 8;

/// A mark at a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Symbol {
    /// A filled circle.
    Disc,
    /// A ring.
    Ring,
    /// A filled triangle.
    Triangle,
    /// A diagonal cross.
    Cross,
    /// A filled diamond.
    Diamond,
}

/// Which end of a text stands at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// Its start.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A shape.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Shape {
    /// A line through points.
    Line {
        /// The points.
        points: Vec<Point>,
        /// Its ink.
        ink: Ink,
        /// Its width.
        width: f64,
        /// Whether it is dashed.
        dashed: bool,
    },
    /// A surface between points, with an outline where it has an ink.
    Surface {
        /// The points.
        points: Vec<Point>,
        /// How it is filled.
        fill: Fill,
        /// Its outline.
        outline: Option<Ink>,
    },
    /// A mark.
    Mark {
        /// Where.
        at: Point,
        /// Which.
        symbol: Symbol,
    },
    /// Words.
    Words {
        /// Where their base line is.
        at: Point,
        /// The words.
        words: String,
        /// Height of their letters.
        size: f64,
        /// Which end stands there.
        anchor: Anchor,
        /// Their ink.
        ink: Ink,
        /// Whether they are bold.
        bold: bool,
        /// Whether they are read upward.
        upward: bool,
    },
}

impl Shape {
    /// A line between two points.
    pub(crate) fn line(from: Point, to: Point, ink: Ink, width: f64) -> Shape {
        Shape::Line { points: vec![from, to], ink, width, dashed: false }
    }

    /// The same, dashed.
    pub(crate) fn dashes(from: Point, to: Point, ink: Ink, width: f64) -> Shape {
        Shape::Line { points: vec![from, to], ink, width, dashed: true }
    }

    /// A rectangle.
    pub(crate) fn rectangle(at: Point, size: Point, fill: Fill, outline: Option<Ink>) -> Shape {
        let (right, bottom) = (at.0 + size.0, at.1 + size.1);
        Shape::Surface { points: vec![at, (right, at.1), (right, bottom), (at.0, bottom)], fill, outline }
    }

    /// Words of the usual size.
    pub(crate) fn words(at: Point, words: impl Into<String>, anchor: Anchor, ink: Ink) -> Shape {
        Shape::Words { at, words: words.into(), size: SIZE, anchor, ink, bold: false, upward: false }
    }

    /// The same in bold.
    pub(crate) fn bold(self) -> Shape {
        match self {
            Shape::Words { at, words, size, anchor, ink, upward, .. } => {
                Shape::Words { at, words, size, anchor, ink, bold: true, upward }
            }
            other => other,
        }
    }

    /// The same, read upward.
    pub(crate) fn upward(self) -> Shape {
        match self {
            Shape::Words { at, words, size, anchor, ink, bold, .. } => {
                Shape::Words { at, words, size, anchor, ink, bold, upward: true }
            }
            other => other,
        }
    }

    /// An arrow head at a point, to the right or left (`across`), or down or up.
    pub(crate) fn arrow(at: Point, direction: Point) -> Shape {
        let side = (direction.1, direction.0);
        let corner = |along: f64, beside: f64| {
            (
                at.0 + 5.0 * along * direction.0 + 3.5 * beside * side.0,
                at.1 + 5.0 * along * direction.1 + 3.5 * beside * side.1,
            )
        };
        let points = vec![corner(1.0, 0.0), corner(-0.2, 1.0), corner(-0.2, -1.0)];
        Shape::Surface { points, fill: Fill::Ink(Ink::Data), outline: None }
    }
}

/// The usual height of letters.
pub(crate) const SIZE: f64 = 11.0;
