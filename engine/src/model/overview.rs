//! The result for an archive: every group in a few lines, its shifts and readings only counted.

use super::assessment::{InputFile, Program, RuleResult, by_name};
use super::figure::Figure;
use super::limit::LimitKind;
use crate::diagnose::Report;
use serde::Serialize;

/// Everything that one run found out about an archive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Overview {
    /// Version of this form.
    pub format_version: u32,
    /// What computed it.
    pub program: Program,
    /// The files it was computed from.
    pub inputs: Vec<InputFile>,
    /// Title of the study.
    pub title: String,
    /// Where the work was done.
    pub site: String,
    /// Who signs.
    pub prepared_by: String,
    /// How ppm and mg/m3 were converted, in words.
    pub conversion: String,
    /// Readings.
    pub readings: usize,
    /// Of these, qualified by a rule about the field work.
    pub qualified: usize,
    /// Of these, rejected by the study.
    pub rejected: usize,
    /// Shifts.
    pub shifts: usize,
    /// Workers with a shift.
    pub workers: usize,
    /// What was found, each kind of finding once.
    pub findings: Vec<FoundOften>,
    /// Every group, agent and limit, in the order of the study.
    pub groups: Vec<GroupOutline>,
}

/// A kind of finding, and how often it was met.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FoundOften {
    /// Places at which it was met.
    pub places: usize,
    /// Groups in which it was met; 0 where it is about the study as a whole.
    pub groups: usize,
    /// The first of them.
    pub first: Report,
}

/// A group against a limit, in a few lines.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupOutline {
    /// The group.
    pub group: String,
    /// The substance, or those of a mixture joined by plus signs.
    pub agent: String,
    /// Kind of limit.
    pub kind: LimitKind,
    /// The limit in the agent's unit.
    pub limit: Figure,
    /// Where the user took the limit from.
    pub source: String,
    /// Readings of the group.
    pub readings: usize,
    /// Of these, qualified by a rule about the field work.
    pub qualified: usize,
    /// Shifts of the group.
    pub shifts: usize,
    /// Shifts with a figure.
    pub n: usize,
    /// Of these, shifts whose figure is an interval.
    pub censored: usize,
    /// Workers with such a shift.
    pub workers: usize,
    /// The figures by name.
    #[serde(serialize_with = "by_name")]
    pub profile: Vec<(&'static str, Figure)>,
    /// How well a lognormal distribution fits.
    #[serde(serialize_with = "by_name")]
    pub fit: Vec<(&'static str, Figure)>,
    /// Every rule asked for.
    pub verdicts: Vec<RuleResult>,
}

/// How far the reading of an archive has come, in readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Read and assessed.
    pub done: usize,
    /// In all.
    pub of: usize,
}
