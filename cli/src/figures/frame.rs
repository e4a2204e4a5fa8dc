//! The frame of a drawing with two axes: lines that guide the eye, the words of their ticks, what each axis shows.

use super::rows::small;
use super::shape::{Anchor, Ink, Shape};

/// Where the axes begin and end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
}

impl Frame {
    /// A line across at a tick of the upright axis, its words at the left.
    pub(super) fn across(&self, y: f64, words: impl Into<String>) -> [Shape; 2] {
        let line = Shape::line((self.left, y), (self.right, y), Ink::Grid, 0.6);
        [line, small((self.left - 6.0, y + 3.5), words, Anchor::End, Ink::Quiet)]
    }

    /// A line down at a tick of the level axis.
    pub(super) fn down(&self, x: f64) -> Shape {
        Shape::line((x, self.top), (x, self.bottom), Ink::Grid, 0.6)
    }

    /// A stroke below the level axis.
    pub(super) fn stroke(&self, x: f64) -> Shape {
        Shape::line((x, self.bottom), (x, self.bottom + 4.0), Ink::Quiet, 1.0)
    }

    /// The words of a tick of the level axis.
    pub(super) fn below(&self, x: f64, words: impl Into<String>) -> Shape {
        small((x, self.bottom + 15.0), words, Anchor::Middle, Ink::Quiet)
    }

    /// The two axes, and what each shows.
    pub(super) fn axes(&self, level: &str, upright: String) -> [Shape; 3] {
        let corners = vec![(self.left, self.top), (self.left, self.bottom), (self.right, self.bottom)];
        let middle = ((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0);
        [
            Shape::Line { points: corners, ink: Ink::Quiet, width: 1.0, dashed: false },
            small((middle.0, self.bottom + 32.0), level, Anchor::Middle, Ink::Data),
            small((14.0, middle.1), upright, Anchor::Middle, Ink::Data).upward(),
        ]
    }
}
