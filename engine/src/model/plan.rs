//! The plan of the next visit: whom to sample, when, with which tubes, and what it can be expected to settle.

use super::assessment::{InputFile, Program, StudyHead};
use super::figure::Figure;
use super::limit::LimitKind;
use crate::diagnose::Report;
use serde::Serialize;

/// What the user wishes of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Wishes {
    /// The seed of every draw.
    pub seed: u64,
    /// One of the highest of this share of the group is to be among the workers drawn.
    pub highest: f64,
    /// With this confidence.
    pub confidence: f64,
    /// How many workers to draw, in the place of the number that follows from the two above.
    pub workers: Option<usize>,
    /// Grab times in a shift.
    pub times: usize,
    /// Spare tubes, as a share of those drawn.
    pub spares: f64,
    /// An assumed GSD, in the place of the profile's.
    pub gsd: Option<f64>,
    /// An assumed 95th percentile as a share of the limit, in the place of the profile's.
    pub p95: Option<f64>,
}

/// The GSD where neither a profile nor the user tells one (a proposal of this program, no source).
pub const ASSUMED_GSD: f64 = 2.5;

/// The 95th percentile as a share of the limit where neither a profile nor the user tells one (a proposal of this program, no source).
pub const ASSUMED_P95: f64 = 0.5;

/// The chance that counts as good enough for a number of shifts.
pub const WANTED: f64 = 0.8;

/// The plan of the next visit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
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
    /// What was wished.
    pub wishes: Wishes,
    /// How draws are made, so that anyone can repeat them.
    pub draws: &'static str,
    /// Group by group.
    pub groups: Vec<GroupPlan>,
}

/// The plan of one group.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupPlan {
    /// The group.
    pub group: String,
    /// How many people belong to it.
    pub population: usize,
    /// How many of them the study names.
    pub named: usize,
    /// How many workers to draw, for the usual shares and confidences and for those wished.
    pub sizes: Vec<DrawSize>,
    /// The workers drawn, in the order drawn.
    pub drawn: Vec<DrawnWorker>,
    /// When to draw tubes, a shift a worker drawn.
    pub visits: Vec<Visit>,
    /// How many tubes of each type.
    pub tubes: Vec<TubeNeed>,
    /// What the visit can be expected to settle, limit by limit.
    pub outlooks: Vec<LimitOutlook>,
}

/// How many workers to draw so that one of the highest is among them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DrawSize {
    /// The share of the group that counts as the highest.
    pub highest: f64,
    /// That share in whole workers: the fewest that make it up.
    pub highest_workers: usize,
    /// The confidence.
    pub confidence: f64,
    /// The fewest to draw.
    pub workers: usize,
    /// The chance that they miss every one of the highest.
    pub missed: f64,
    /// The number as NIOSH 77-173 prints it: the real-valued root, rounded to the nearest.
    pub as_printed: usize,
    /// The chance that so many miss every one of the highest.
    pub as_printed_missed: f64,
    /// Whether this is the one the workers were drawn by.
    pub used: bool,
}

/// A worker drawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnWorker {
    /// Number on the roster: the workers as the study names them, then the others.
    pub number: usize,
    /// The name; none for people whom the study does not name.
    pub worker: Option<String>,
}

impl DrawnWorker {
    /// The name, or the number on the roster.
    pub fn called(&self) -> String {
        self.worker.clone().unwrap_or_else(|| format!("no. {}", self.number))
    }
}

/// A shift in which tubes are to be drawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Visit {
    /// Who.
    pub worker: String,
    /// The shift after whose diary the times are laid, as `W3/2027-03-12`; none where the diary has no shift of the group.
    pub shift_as: Option<String>,
    /// The times, in order.
    pub times: Vec<GrabTime>,
    /// What keeps the plan from more.
    pub note: Option<String>,
}

/// A moment at which tubes are to be drawn, one after the other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GrabTime {
    /// On the clock of the shift after which it is laid, as `07:40`; minutes into the shift, as `+100 min`, without one.
    pub at: String,
    /// Minutes from the start of the shift.
    pub minutes: f64,
    /// The task; none where the diary has no shift of the group.
    pub task: Option<String>,
    /// The tubes, each with its strokes.
    pub tubes: Vec<TubeChoice>,
}

/// A tube type and a number of strokes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeChoice {
    /// The type.
    pub tube: String,
    /// The strokes.
    pub strokes: f64,
}

/// How many tubes of one type are needed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeNeed {
    /// The type.
    pub tube: String,
    /// The substance.
    pub agent: String,
    /// Tubes to be drawn.
    pub draws: usize,
    /// Spare ones.
    pub spares: usize,
    /// Tubes in a box.
    pub box_size: usize,
    /// Boxes to open.
    pub boxes: usize,
    /// How they are drawn, a number of strokes each.
    pub uses: Vec<TubeUse>,
}

/// Draws of one tube type with one number of strokes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeUse {
    /// Strokes a draw.
    pub strokes: f64,
    /// Tubes to be drawn so.
    pub draws: usize,
    /// Minutes of a draw; none where the sheet does not tell the time of a stroke.
    pub draw_minutes: Option<f64>,
    /// What it can be read for, in the agent's unit.
    pub range: Figure,
    /// What it is expected to meet, in the agent's unit.
    pub expected: Figure,
    /// What is to be thought of.
    pub remarks: Vec<String>,
}

/// What numbers of shifts can be expected to settle against one limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitOutlook {
    /// The substance.
    pub agent: String,
    /// The kind of limit.
    pub kind: LimitKind,
    /// The limit.
    pub limit: Figure,
    /// The geometric mean taken as true.
    pub gm: f64,
    /// The geometric standard deviation taken as true.
    pub gsd: f64,
    /// The 95th percentile they give.
    pub p95: f64,
    /// Where these come from, in words.
    pub basis: String,
    /// Numbers of shifts.
    pub shifts: Vec<usize>,
    /// Rule by rule.
    pub rules: Vec<RuleOutlook>,
}

/// The chance that each number of shifts gives `below` under a rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RuleOutlook {
    /// The rule.
    pub rule: &'static str,
    /// The chances, one a number of shifts; none where the rule does not take so many.
    pub chances: Vec<Option<f64>>,
    /// The fewest shifts with which the chance reaches what is wanted; none where no number that was searched does.
    pub fewest: Option<usize>,
    /// How the chances were found, or why there are none.
    pub method: &'static str,
}
