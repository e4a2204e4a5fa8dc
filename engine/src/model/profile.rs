//! A group's lognormal profile and what the rules say about it.

use super::Ref;
use super::figure::Figure;
use super::study::{Group, Task, Worker};
use serde::Serialize;

/// What the shift figures of a group are held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// A limit, by its number in the study.
    Limit(usize),
    /// 1, as the index of the mixture of that number in the study.
    Mixture(usize),
}

/// Summary of a group's shift figures against one limit.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupProfile {
    /// The group.
    pub group: Ref<Group>,
    /// What its figures are held against.
    pub against: Against,
    /// Shifts with a figure.
    pub n: usize,
    /// Of these, shifts whose figure is an interval rather than a point.
    pub censored: usize,
    /// Each shift figure as an interval, with the shift's number.
    pub values: Vec<(usize, super::Interval)>,
    /// The figures by name, in the order in which they are printed.
    pub figures: Vec<(&'static str, Figure)>,
    /// How well a lognormal distribution fits, and whether the figures drift with time.
    pub fit: Vec<(&'static str, Figure)>,
    /// What other methods say where shift figures are known as ranges.
    pub second_opinion: Vec<(&'static str, Figure)>,
    /// The probability plot.
    pub plot: super::assessment::ProbabilityPlot,
    /// The prior of the chances, in words.
    pub prior: String,
    /// Chances and credible limits under that prior.
    pub chances: Vec<(&'static str, Figure)>,
    /// Where the user entered a prior: the same under the program's own flat one, with that in words.
    pub flat: Option<(String, Vec<(&'static str, Figure)>)>,
    /// Workers with at least one shift figure.
    pub workers: usize,
    /// Variation between and within workers.
    pub between: Vec<(&'static str, Figure)>,
    /// Workers whose own level stands apart from the group's.
    pub apart: Vec<Ref<Worker>>,
    /// What drives the exposure; `None` against other limits than those of a TWA.
    pub drivers: Option<Drivers>,
}

/// What an overview tells of a group's shift figures against one limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// What the figures are held against.
    pub against: Against,
    /// Each shift figure as an interval.
    pub values: Vec<super::Interval>,
    /// The numbers of their shifts.
    pub shifts: Vec<usize>,
    /// Workers with at least one shift figure.
    pub workers: usize,
    /// The figures by name, in the order in which they are printed; without their working.
    pub figures: Vec<(&'static str, Figure)>,
    /// How well a lognormal distribution fits.
    pub fit: Vec<(&'static str, Figure)>,
    /// The prior of the chances, in words; empty where no rule asks for them.
    pub prior: String,
    /// Chances and credible limits under that prior, where a rule asks for them.
    pub chances: Vec<(&'static str, Figure)>,
    /// The same under the program's own flat prior, where the user entered another.
    pub flat: Vec<(&'static str, Figure)>,
    /// Variation between and within workers, where a rule asks for it.
    pub between: Vec<(&'static str, Figure)>,
}

/// What drives the exposure of a group.
#[derive(Debug, Clone, PartialEq)]
pub struct Drivers {
    /// Each task's share of the dose of all shifts, in the order of the study's tasks.
    pub shares: Vec<(Ref<Task>, Figure)>,
    /// What half of the largest task would change.
    pub halved: Halved,
}

/// The profile with the mean of one task halved in every shift.
#[derive(Debug, Clone, PartialEq)]
pub struct Halved {
    /// The task with the largest share.
    pub task: Ref<Task>,
    /// The 95th percentile then.
    pub p95: Figure,
    /// The exceedance then.
    pub exceedance: Figure,
}

/// What a rule decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Below the limit.
    Below,
    /// Above the limit.
    Above,
    /// The data do not decide.
    Undecided,
    /// The rule cannot be applied to these data.
    NotGiven,
}

impl Verdict {
    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Below => "below",
            Verdict::Above => "above",
            Verdict::Undecided => "undecided",
            Verdict::NotGiven => "not given",
        }
    }
}
