//! A worker's shift and what was found in it.

use super::Ref;
use super::concentration::Interval;
use super::quantity::Minutes;
use super::study::{Agent, Group, Task, Unsampled, Worker};
use crate::diagnose::Span;
use chrono::NaiveDateTime;

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
    pub twa: Result<Interval, String>,
    /// Share of the shift's minutes whose task was measured in this shift.
    pub covered: f64,
    /// The highest window of each short-term limit's averaging time.
    pub windows: Vec<(Minutes, Result<Window, String>)>,
    /// Number of the highest reading (by its upper end), if there is one.
    pub highest_reading: Option<usize>,
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
    /// Upper bound: the highest single reading of the shift held for the whole window.
    pub bound: f64,
    /// Minutes of the window for which a reading stands.
    pub measured_minutes: f64,
    /// Minutes of the window drawn through a tube.
    pub drawn_minutes: f64,
    /// The readings in it, with the minutes each stands for: positions in the list of concentrations.
    pub readings: Vec<(usize, f64)>,
}
