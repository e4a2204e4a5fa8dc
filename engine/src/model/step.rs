//! The working behind a figure.

use serde::Serialize;

/// One step of a calculation: what was done, with what, to what result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// Name of the step, as `temperature factor`.
    pub name: String,
    /// Formula in plain text with the symbols of `inputs`.
    pub formula: String,
    /// What went in.
    pub inputs: Vec<Input>,
    /// What came out, in words and numbers.
    pub result: String,
    /// Where the formula comes from: a key of the handbook's list of sources.
    pub source: &'static str,
}

/// One input of a step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Input {
    /// Symbol or name.
    pub name: String,
    /// Value at full precision, with its unit.
    pub value: String,
    /// Where it comes from: the address of another figure, or a place in a file.
    pub from: String,
}

impl Input {
    /// An input.
    pub fn new(name: impl Into<String>, value: impl std::fmt::Display, from: impl Into<String>) -> Self {
        Input { name: name.into(), value: value.to_string(), from: from.into() }
    }
}

/// A number as the text of a step shows it: six significant digits, no trailing zeros.
pub fn shown(x: f64) -> String {
    significant(x, 6)
}

/// Numbers that a sentence does not spell out: no concentration, share or count of this trade is larger, none that matters smaller.
const SPELT_OUT: std::ops::Range<f64> = 1e-9..1e7;

/// A number as a sentence shows it: three significant digits, no trailing zeros; one beyond all use as `>1e7` or `<1e-9`.
pub fn brief(x: f64) -> String {
    in_sentence(x, 3)
}

fn in_sentence(x: f64, digits: usize) -> String {
    match x.abs() {
        size if size.is_finite() && size >= SPELT_OUT.end => format!(">{:e}", SPELT_OUT.end),
        size if size > 0.0 && size < SPELT_OUT.start => format!("<{:e}", SPELT_OUT.start),
        _ => significant(x, digits),
    }
}

/// A number as a sentence shows it beside another that it differs from: with as many digits as tell them apart.
pub fn brief_beside(x: f64, other: f64) -> String {
    let apart = (3..=12).find(|&digits| significant(x, digits) != shown(other) || x == other);
    in_sentence(x, apart.unwrap_or(12))
}

fn significant(x: f64, digits: usize) -> String {
    if !x.is_finite() {
        return "no upper end".to_owned();
    }
    let scientific = format!("{x:.*e}", digits - 1);
    let rounded: f64 = scientific.parse().unwrap_or(x);
    match rounded.abs() {
        size if size >= 1e7 || (size > 0.0 && size < 1e-6) => scientific,
        _ => format!("{rounded}"),
    }
}

/// A range as a sentence shows it.
pub fn brief_range(low: f64, high: f64) -> String {
    if low == high { brief(low) } else { format!("{} to {}", brief(low), brief(high)) }
}

/// A range as the text of a step shows it; a point is one number.
pub fn shown_range(low: f64, high: f64) -> String {
    if low == high { shown(low) } else { format!("{} to {}", shown(low), shown(high)) }
}
