//! The result of the whole: plain data, complete; everything printed anywhere is a view of it.

mod group;
mod shift;

pub use group::*;
pub use shift::*;

use super::field_quality::FieldQuality;
use super::figure::Figure;
use super::limit::LimitKind;
use super::report::ReportWords;
use crate::diagnose::Report;
use serde::Serialize;

/// Version of the JSON form.
pub const FORMAT_VERSION: u32 = 1;

/// Everything that one run found out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Assessment {
    /// Version of this form.
    pub format_version: u32,
    /// What computed it.
    pub program: Program,
    /// The files it was computed from.
    pub inputs: Vec<InputFile>,
    /// What the study says of itself.
    pub study: StudyHead,
    /// What was found in the input.
    pub findings: Vec<Report>,
    /// How well the field work was done.
    pub field_quality: FieldQuality,
    /// Every reading, in the order of its table.
    pub readings: Vec<ReadingResult>,
    /// Every shift and agent, by group, worker and start.
    pub shifts: Vec<ShiftResult>,
    /// The index of every shift and mixture, in the order of the shifts.
    pub mixtures: Vec<MixtureResult>,
    /// Every group, agent and limit.
    pub groups: Vec<GroupResult>,
}

/// Name and version of the program.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Program {
    /// Name.
    pub name: &'static str,
    /// Version.
    pub version: &'static str,
}

/// One file that was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct InputFile {
    /// Path relative to the study.
    pub file: String,
    /// SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
}

/// What the study says of itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StudyHead {
    /// Title.
    pub title: String,
    /// Site.
    pub site: String,
    /// Who signs.
    pub prepared_by: String,
    /// How ppm and mg/m3 were converted, in words.
    pub conversion: String,
    /// Reference period of the TWA in minutes.
    pub reference_minutes: f64,
    /// The substances.
    pub agents: Vec<AgentHead>,
    /// The limits.
    pub limits: Vec<LimitHead>,
    /// The groups.
    pub groups: Vec<GroupHead>,
    /// The tube sheets.
    pub tubes: Vec<TubeHead>,
    /// The user's own words for the report.
    pub report: ReportWords,
}

/// A substance as declared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AgentHead {
    /// Name.
    pub agent: String,
    /// Registry number.
    pub cas: Option<String>,
    /// Molar mass in g/mol.
    pub molar_mass: Option<f64>,
    /// The unit of its figures.
    pub unit: &'static str,
}

/// A limit as declared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitHead {
    /// The substance.
    pub agent: String,
    /// The kind.
    pub kind: LimitKind,
    /// The value as entered.
    pub value: f64,
    /// Its unit as entered.
    pub unit: &'static str,
    /// The same in the unit of the agent's figures.
    pub in_figures: Figure,
    /// Averaging time of a short-term limit.
    pub averaging_minutes: Option<f64>,
    /// How often a shift may reach into its range.
    pub at_most: Option<u32>,
    /// How far apart such occasions must lie.
    pub at_least_apart_minutes: Option<f64>,
    /// How it is lowered for long shifts: `none`, `daily`, `weekly`, `lead-style`.
    pub adjust: &'static str,
    /// Where the user took it from, where that was told.
    pub source: Option<String>,
}

/// A group as declared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupHead {
    /// Name.
    pub group: String,
    /// Its workers.
    pub workers: Vec<String>,
    /// How many people belong to it, where known.
    pub population: Option<u32>,
    /// The substances it is assessed for.
    pub agents: Vec<String>,
}

/// A tube sheet as declared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeHead {
    /// Name.
    pub tube: String,
    /// The substance it shows.
    pub agent: String,
    /// The first printed mark.
    pub first_mark: Option<f64>,
    /// The last printed mark.
    pub last_mark: Option<f64>,
    /// Unit of the scale.
    pub unit: &'static str,
    /// Strokes for which the scale is printed.
    pub strokes: f64,
    /// Relative standard deviation of a reading, where the sheet gives it.
    pub relative_sd: Option<f64>,
    /// What it contains, for its disposal.
    pub contains: Option<String>,
    /// Readings drawn with it.
    pub readings: usize,
}
