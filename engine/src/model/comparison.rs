//! Two groups, or one before and after a control, side by side.

use super::assessment::Program;
use super::figure::Figure;
use super::limit::LimitKind;
use serde::Serialize;

/// The shift figures of two groups compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Comparison {
    /// Version of this form.
    pub format_version: u32,
    /// What computed it.
    pub program: Program,
    /// The first group: before.
    pub first: Side,
    /// The second group: after.
    pub second: Side,
    /// Limit by limit that both are held against.
    pub results: Vec<LimitComparison>,
}

/// One of the two.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Side {
    /// Title of its study.
    pub study: String,
    /// The group.
    pub group: String,
}

/// The shift figures that are held against one kind of limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitComparison {
    /// The substance.
    pub agent: String,
    /// The kind of limit.
    pub kind: LimitKind,
    /// Shifts of the first with a figure.
    pub first_n: usize,
    /// Shifts of the second with a figure.
    pub second_n: usize,
    /// GM of the first.
    pub first_gm: Figure,
    /// GM of the second.
    pub second_gm: Figure,
    /// The second GM over the first, all shifts counting alike.
    pub unpaired: Ratio,
    /// The same within each worker who is in both.
    pub paired: Ratio,
}

/// A ratio of geometric means.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ratio {
    /// The ratio with its one-sided limits.
    pub ratio: Figure,
    /// The confidence that the true ratio lies below 1: that it is a real fall.
    pub confidence_of_fall: Figure,
    /// What is to be thought of.
    pub notes: Vec<String>,
}
