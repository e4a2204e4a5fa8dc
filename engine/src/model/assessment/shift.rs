//! The results of readings and of shifts.

use crate::model::ClockChange;
use crate::model::figure::Figure;
use crate::model::limit::LimitKind;
use crate::model::profile::Verdict;
use crate::model::step::Step;
use serde::Serialize;
use std::collections::BTreeMap;

/// One reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingResult {
    /// Name.
    pub id: String,
    /// Who wore it; nobody an area or blank reading.
    pub worker: Option<String>,
    /// The shift it belongs to; an area or blank reading may belong to none.
    pub shift: Option<String>,
    /// During what, where somebody wore it.
    pub task: Option<String>,
    /// The substance.
    pub agent: String,
    /// Where it stands in the study, as `readings.csv:14`.
    pub place: String,
    /// The tube type.
    pub tube: String,
    /// Lot of the tube, where it was told.
    pub lot: Option<String>,
    /// The pump.
    pub pump: String,
    /// When it began, local time.
    pub start: String,
    /// The same in minutes from the start of its shift.
    pub minutes_into_shift: Option<f64>,
    /// Minutes of drawing, where known.
    pub drawn_minutes: Option<f64>,
    /// The stain as the user wrote it.
    pub stain: String,
    /// Why it was drawn.
    pub purpose: &'static str,
    /// Unit of the ends.
    pub unit: &'static str,
    /// Lower end of the concentration.
    pub low: f64,
    /// Upper end; `None` where the stain went past the last mark.
    pub high: Option<f64>,
    /// Whether it takes part in the figures.
    pub used: bool,
    /// Why not.
    pub why_not: Option<String>,
    /// The rule by which the study rejects it, by name.
    pub rejected_by: Option<&'static str>,
    /// The rules that qualify it, by name.
    pub qualified_by: Vec<&'static str>,
    /// The correction chain.
    pub trail: Vec<Step>,
}

/// One shift and agent.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShiftResult {
    /// Name, as `W3/2027-03-10`.
    pub shift: String,
    /// Who.
    pub worker: String,
    /// Group.
    pub group: String,
    /// Beginning, local time; the day alone where a diary by minutes tells no more.
    pub start: String,
    /// End, local time; `None` where the diary tells minutes, which leave it open.
    pub end: Option<String>,
    /// Length in minutes.
    pub minutes: f64,
    /// The substance.
    pub agent: String,
    /// TWA over the reference period.
    pub twa: Figure,
    /// What weakens the limits of the TWA.
    pub twa_notes: Vec<String>,
    /// The TWA inside the respirators worn, where any was; verdicts use the air outside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub twa_inside_respirators: Option<Figure>,
    /// The highest short-term window.
    pub short_term: Figure,
    /// More about that window.
    pub short_term_window: Option<WindowResult>,
    /// The highest single reading.
    pub highest_reading: Figure,
    /// Share of the minutes that lies in tasks with at least one tube that counts.
    pub covered: f64,
    /// Share of the minutes under each rule for unsampled time.
    pub unsampled: BTreeMap<&'static str, f64>,
    /// By task.
    pub tasks: Vec<TaskResult>,
    /// What was done when; empty where the diary tells minutes only.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub diary: Vec<DiaryStretch>,
    /// Where the clock is put forward or back within it; mostly empty.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub clock_changes: Vec<ClockChange>,
    /// Against each limit.
    pub limits: Vec<ShiftLimit>,
}

/// A stretch of one task.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DiaryStretch {
    /// The task.
    pub task: String,
    /// Minutes from the start of the shift.
    pub from: f64,
    /// Likewise, to.
    pub to: f64,
}

/// The highest short-term window.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WindowResult {
    /// Beginning, local time.
    pub start: String,
    /// Length in minutes.
    pub minutes: f64,
    /// Minutes drawn through a tube.
    pub drawn_minutes: f64,
    /// Minutes for which a reading stands.
    pub measured_minutes: f64,
    /// The readings in it.
    pub readings: Vec<String>,
    /// Whether no window of the shift holds three tubes.
    pub screening_only: bool,
}

/// One task of a shift.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TaskResult {
    /// The task.
    pub task: String,
    /// Minutes.
    pub minutes: f64,
    /// The readings behind the mean.
    pub readings: Vec<String>,
    /// Where the mean comes from.
    pub basis: String,
    /// The rule for unsampled time that stands for it: `borrow`, `bounds`, `zero`; `None` where a tube was drawn.
    pub unsampled: Option<&'static str>,
    /// The mean.
    pub mean: Figure,
    /// Share of the shift's dose, by the middle values.
    pub share_of_dose: Figure,
}

/// A shift against a limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShiftLimit {
    /// Kind of limit.
    pub kind: LimitKind,
    /// The limit in the agent's unit.
    pub limit: Figure,
    /// Shift figure over limit.
    pub ratio: Figure,
    /// What it means.
    pub verdict: Verdict,
    /// Why.
    pub because: String,
    /// The chance that a window without a tube exceeded a short-term limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unmeasured: Option<UnmeasuredResult>,
    /// The published test of single shifts, where the study asks for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub compliance: Option<ComplianceResult>,
}

/// The chance that some window without a tube exceeded a short-term limit, in the task of the highest window.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct UnmeasuredResult {
    /// The task, where it is known.
    pub task: Option<String>,
    /// Its windows for which no reading stands.
    pub windows: Option<f64>,
    /// The chance that one of them exceeded the limit.
    pub one: Figure,
    /// The chance that any of them did.
    pub any: Figure,
}

/// What the published test of single shifts says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComplianceResult {
    /// The rule.
    pub rule: &'static str,
    /// The mean over the limit.
    pub ratio: Figure,
    /// Its verdict.
    pub verdict: Verdict,
    /// Why.
    pub because: String,
    /// Where the rule comes from.
    pub source: &'static str,
}

/// One shift and mixture.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MixtureResult {
    /// Name of the shift, as `W3/2027-03-10`.
    pub shift: String,
    /// Who.
    pub worker: String,
    /// Group.
    pub group: String,
    /// Beginning of the shift, local time.
    pub start: String,
    /// The substances joined by plus signs.
    pub mixture: String,
    /// The sum of TWA over limit, held against 1.
    pub index: Figure,
    /// What weakens its limits.
    pub notes: Vec<String>,
    /// What each substance brings.
    pub parts: Vec<PartResult>,
    /// What it means.
    pub verdict: Verdict,
    /// Why.
    pub because: String,
}

/// What one substance brings to the index of a mixture.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartResult {
    /// The substance.
    pub agent: String,
    /// TWA over limit.
    pub ratio: Figure,
}
