//! The drawings of a report: geometry once, written as SVG by one writer; pixels come from the same SVG.

pub(crate) mod svg;

/// A drawing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drawing {
    /// What it shows, in a few words.
    pub(crate) title: String,
    /// What can be seen in it, for those who cannot see it.
    pub(crate) description: String,
    /// Width, in the unit of its shapes.
    pub(crate) width: f64,
    /// Height.
    pub(crate) height: f64,
}

use crate::language::Language;
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::{GroupResult, ReadingResult, ShiftResult};

pub(crate) fn shift_figures(_: &[&ShiftResult], _: LimitKind, _: &Language) -> Option<Drawing> {
    None
}
pub(crate) fn probability(_: &GroupResult, _: &Language) -> Option<Drawing> {
    None
}
pub(crate) fn dose(_: &[&ShiftResult], _: &Language) -> Option<Drawing> {
    None
}
pub(crate) fn timelines(_: &[&ShiftResult], _: &[ReadingResult], _: &Language) -> Vec<Drawing> {
    Vec::new()
}
