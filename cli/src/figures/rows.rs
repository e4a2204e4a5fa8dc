//! What drawings with a row a shift share: their measures, the names at the left, the key below.

use super::letters::{cut, width};
use super::shape::{Anchor, Fill, Ink, Point, Shape, Symbol};
use crate::language::Language;
use fullshift_engine::model::assessment::ShiftResult;

/// Width of such a drawing.
pub(super) const WIDTH: f64 = 720.0;
/// Where its rows begin, right of their names.
pub(super) const LEFT: f64 = 190.0;
/// Where they end.
pub(super) const RIGHT: f64 = 655.0;
/// Letters of names and labels.
pub(super) const SMALL: f64 = 10.0;

/// Height of a row: narrower where there are many.
pub(super) fn height(rows: usize) -> f64 {
    if rows > 24 { 14.0 } else { 19.0 }
}

/// The name of a shift at its row, and a thin line across at each new worker.
pub(super) fn names(shifts: &[&ShiftResult], top: f64, language: &Language, shapes: &mut Vec<Shape>) {
    let height = height(shifts.len());
    for (row, shift) in shifts.iter().enumerate() {
        let y = top + height * (row as f64 + 0.5);
        let day = language.short_date(&shift.start);
        let room = LEFT - 18.0 - width(&day, SMALL);
        let before = row.checked_sub(1).map(|before| shifts[before].worker.as_str());
        if before != Some(shift.worker.as_str()) {
            shapes.push(small((4.0, y + 3.5), cut(&shift.worker, SMALL, room), Anchor::Start, Ink::Data));
            if row > 0 {
                let line = y - height / 2.0;
                shapes.push(Shape::line((4.0, line), (RIGHT, line), Ink::Grid, 0.6));
            }
        }
        shapes.push(small((LEFT - 8.0, y + 3.5), day, Anchor::End, Ink::Quiet));
    }
}

/// Small words.
pub(super) fn small(at: Point, words: impl Into<String>, anchor: Anchor, ink: Ink) -> Shape {
    Shape::Words { at, words: words.into(), size: SMALL, anchor, ink, bold: false, upward: false }
}

/// What a sign of a drawing stands for.
pub(super) enum Sign {
    /// A mark.
    Symbol(Symbol),
    /// A line.
    Line(Ink, bool),
    /// A bar upright, as for a range.
    Upright,
    /// A surface.
    Surface(Fill),
    /// An arrow head.
    Arrow,
}

/// A key: each sign with its words, in as many lines as are needed from `top` on. Gives where it ends.
pub(super) fn key(
    entries: &[(Sign, String)],
    left: f64,
    right: f64,
    top: f64,
    shapes: &mut Vec<Shape>,
) -> f64 {
    let (mut x, mut y) = (left, top + 10.0);
    for (sign, words) in entries {
        let words = cut(words, SMALL, right - left - 30.0);
        let wide = 24.0 + width(&words, SMALL) + 14.0;
        if x > left && x + wide > right {
            (x, y) = (left, y + 16.0);
        }
        shapes.extend(drawn(sign, (x, y)));
        shapes.push(small((x + 24.0, y + 3.5), words, Anchor::Start, Ink::Data));
        x += wide;
    }
    y + 12.0
}

fn drawn(sign: &Sign, (x, y): Point) -> Vec<Shape> {
    let middle = (x + 9.0, y);
    match sign {
        Sign::Symbol(symbol) => vec![Shape::Mark { at: middle, symbol: *symbol }],
        Sign::Line(ink, false) => vec![Shape::line((x, y), (x + 18.0, y), *ink, 2.0)],
        Sign::Line(ink, true) => vec![Shape::dashes((x, y), (x + 18.0, y), *ink, 2.0)],
        Sign::Upright => upright(middle.0, y - 6.0, y + 6.0),
        Sign::Surface(fill) => {
            vec![Shape::rectangle((x, y - 5.0), (18.0, 10.0), *fill, Some(Ink::Data))]
        }
        Sign::Arrow => {
            vec![Shape::line((x, y), (x + 11.0, y), Ink::Data, 1.6), Shape::arrow((x + 12.0, y), (1.0, 0.0))]
        }
    }
}

/// An upright bar with a foot at each end.
pub(super) fn upright(x: f64, top: f64, bottom: f64) -> Vec<Shape> {
    let foot = |y: f64| Shape::line((x - 3.0, y), (x + 3.0, y), Ink::Data, 1.4);
    vec![Shape::line((x, top), (x, bottom), Ink::Data, 1.8), foot(top), foot(bottom)]
}
