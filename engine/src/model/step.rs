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
