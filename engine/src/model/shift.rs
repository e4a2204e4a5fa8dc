//! A worker's shift and what was found in it.

use super::Ref;
use super::concentration::{Concentration, Interval};
use super::quantity::Minutes;
use super::study::{Agent, Group, Task, Unsampled, Worker};
use crate::diagnose::Span;
use chrono::NaiveDateTime;

/// Tubes in a short-term window from which on it counts as measured rather than screened (common practice, no source).
pub const TUBES_FOR_A_WINDOW: usize = 3;

/// Why there is no figure.
pub type Reason = std::borrow::Cow<'static, str>;

/// One worker's one working period.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// Name: the worker and the date on which it began, as `W3/2027-03-10`.
    pub name: String,
    /// Who.
    pub worker: Ref<Worker>,
    /// Of which group.
    pub group: Ref<Group>,
    /// When it began.
    pub start: NaiveDateTime,
    /// When it ended.
    pub end: NaiveDateTime,
    /// Whether the diary tells the tasks by the clock.
    pub clock: bool,
    /// What was done, in order.
    pub blocks: Vec<Block>,
    /// Numbers of its readings, by time.
    pub readings: Vec<usize>,
}

/// A stretch of one task within a shift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// The task.
    pub task: Ref<Task>,
    /// From; in a diary by minutes the blocks simply follow each other.
    pub start: NaiveDateTime,
    /// To.
    pub end: NaiveDateTime,
    /// How long.
    pub minutes: Minutes,
    /// Its row in the diary.
    pub span: Span,
}

/// The figures of one shift for one substance, in the agent's unit.
#[derive(Debug, Clone, PartialEq)]
pub struct ShiftExposure {
    /// Number of the shift.
    pub shift: usize,
    /// The substance.
    pub agent: Ref<Agent>,
    /// What each task contributed, in the order of the study's tasks.
    pub tasks: Vec<TaskExposure>,
    /// The TWA over the reference period, or why there is none.
    pub twa: Result<Interval, Reason>,
    /// How far the TWA may be from the true one, or why that cannot be told.
    pub sampling: Result<Sampling, Reason>,
    /// Share of the shift's minutes whose task was measured in this shift.
    pub covered: f64,
    /// The highest window of each short-term limit's averaging time.
    pub windows: Vec<(Minutes, Result<Window, Reason>)>,
    /// Number of the highest reading (by its upper end), if there is one.
    pub highest_reading: Option<usize>,
    /// For which minutes each reading stands, by time.
    pub segments: Vec<Segment>,
    /// The TWA inside the respirators worn; `None` where none was.
    pub twa_inside: Option<Result<Interval, Reason>>,
    /// For each TWA limit of the agent, by its number in the study: the published test of compliance.
    pub compliance: Vec<(usize, Result<Compliance, Reason>)>,
    /// For each short-term limit of the agent, by its number: the chance that a window without a tube exceeded it.
    pub unmeasured: Vec<(usize, Result<Unmeasured, Reason>)>,
}

impl ShiftExposure {
    /// Whether more than half of its dose is told by tubes of other shifts: as a figure of its own it would count those again.
    pub fn is_mostly_borrowed(&self) -> bool {
        let dose = |task: &TaskExposure| task.minutes * task.mean.middle().unwrap_or(task.mean.low());
        let borrowed = |task: &&TaskExposure| task.basis == Basis::Unsampled(Unsampled::Borrow);
        let own: f64 = self.tasks.iter().filter(borrowed).map(dose).sum();
        own > 0.5 * self.tasks.iter().map(dose).sum::<f64>()
    }
}

/// The figures of all shifts that rest on one choice of readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// The concentrations, one a reading.
    pub concentrations: Vec<Concentration>,
    /// The figures of every shift and agent, in the order of the shifts.
    pub exposures: Vec<ShiftExposure>,
    /// The indices of the mixtures, in the order of the shifts.
    pub mixtures: Vec<MixtureExposure>,
}

/// How the published test of compliance sees the tubes of a shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ComplianceForm {
    /// One tube over the full period.
    FullPeriod,
    /// Tubes one after another over the full period.
    Consecutive,
    /// Short tubes at random times, fewer than thirty.
    FewGrab,
    /// Thirty short tubes or more at random times.
    ManyGrab,
}

/// The mean over a limit with its one-sided limits by the published test of compliance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compliance {
    /// How the tubes were drawn.
    pub form: ComplianceForm,
    /// The mean over the limit.
    pub ratio: f64,
    /// Its lower limit.
    pub lower: f64,
    /// Its upper limit.
    pub upper: f64,
}

/// The chance that some window without a tube exceeded a short-term limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unmeasured {
    /// The task of the highest window; its own readings tell the chance.
    pub task: Ref<Task>,
    /// How many of its windows no reading stands for.
    pub windows: f64,
    /// The chance for one window: estimate, lower and upper limit.
    pub one: [f64; 3],
    /// The chance for any of them: estimate, lower and upper limit.
    pub any: [f64; 3],
}

/// The index of a mixture in one shift: the sum of TWA over limit.
#[derive(Debug, Clone, PartialEq)]
pub struct MixtureExposure {
    /// Number of the shift.
    pub shift: usize,
    /// Number of the mixture in the study.
    pub mixture: usize,
    /// The index, or why there is none.
    pub index: Result<Interval, Reason>,
    /// How far the index may be from the true one, or why that cannot be told.
    pub sampling: Result<Sampling, Reason>,
    /// What each substance brings, in the order of the mixture.
    pub parts: Vec<MixturePart>,
}

/// What one substance brings to the index of a mixture.
#[derive(Debug, Clone, PartialEq)]
pub struct MixturePart {
    /// The substance.
    pub agent: Ref<Agent>,
    /// Its TWA limit as it holds for the shift.
    pub limit: f64,
    /// TWA over limit, or why there is none.
    pub ratio: Result<Interval, Reason>,
}

/// A stretch of time for which one reading stands, in minutes from the start of the shift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Position in the list of concentrations.
    pub reading: usize,
    /// From.
    pub from: f64,
    /// To.
    pub to: f64,
    /// When its tube was being drawn: from, to.
    pub drawn: (f64, f64),
}

/// What a task contributed to a shift.
#[derive(Debug, Clone, PartialEq)]
pub struct TaskExposure {
    /// The task.
    pub task: Ref<Task>,
    /// Its minutes in the shift.
    pub minutes: f64,
    /// The readings it rests on: positions in the list of concentrations.
    pub readings: Vec<usize>,
    /// The task mean.
    pub mean: Interval,
    /// Where the mean comes from.
    pub basis: Basis,
    /// Its share of the shift's dose.
    pub share: Result<Share, Reason>,
    /// How far the mean may be from the true one, or why that cannot be told.
    pub sampling: Result<Sampling, Reason>,
}

/// What limits of a mean rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SamplingBasis {
    /// The spread of the readings over time.
    Spread,
    /// The tubes' own error alone: nothing is known of the spread over time.
    Measurement,
    /// Nothing: the ranges of the readings leave their spread open, and the ends are those of the readings' mean.
    Open,
}

/// One-sided limits of a mean over time that was sampled by short readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Sampling {
    /// Confidence of each limit.
    pub confidence: f64,
    /// The true mean lies above it with that confidence.
    pub lower: f64,
    /// The true mean lies below it with that confidence.
    pub upper: f64,
    /// What the limits rest on.
    pub basis: SamplingBasis,
    /// What weakens them.
    pub notes: Vec<String>,
}

/// A share of a dose, between what the ranges of all parts leave open.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// By the middles of the ranges.
    pub value: f64,
    /// Lowest possible.
    pub low: f64,
    /// Highest possible.
    pub high: f64,
    /// Its one-sided limits, lower and upper, or why there are none.
    pub limits: Result<(f64, f64), Reason>,
}

/// Where a task mean comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// From readings in this shift.
    Measured,
    /// From the rule for unsampled minutes.
    Unsampled(Unsampled),
    /// `borrow` was asked for, but no other shift of the group measured the task: `bounds` was used.
    NothingToBorrow,
}

/// The highest short-term window of a shift.
#[derive(Debug, Clone, PartialEq)]
pub struct Window {
    /// From.
    pub start: NaiveDateTime,
    /// Time-weighted mean over the window.
    pub mean: Interval,
    /// How far the mean may be off by the tubes' own error, or why that cannot be told.
    pub sampling: Result<Sampling, Reason>,
    /// The highest single reading of the shift held for the whole window, at its upper end.
    pub bound: f64,
    /// The same with that tube's own error: its one-sided 95 % upper limit.
    pub bound_upper: f64,
    /// Minutes of the window for which a reading stands.
    pub measured_minutes: f64,
    /// Minutes of the window drawn through a tube.
    pub drawn_minutes: f64,
    /// The readings in it, with the minutes each stands for: positions in the list of concentrations.
    pub readings: Vec<(usize, f64)>,
    /// Where it holds fewer than [`TUBES_FOR_A_WINDOW`]: the highest window that holds as many.
    pub measured: Option<Box<Window>>,
}

impl Window {
    /// Whether no window of its shift holds enough tubes to be more than screening.
    pub fn is_screening(&self) -> bool {
        self.readings.len() < TUBES_FOR_A_WINDOW && self.measured.is_none()
    }
}
