//! The results of groups.

use crate::model::figure::Figure;
use crate::model::limit::LimitKind;
use crate::model::profile::Verdict;
use serde::Serialize;

/// A group against a limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupResult {
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
    /// Shifts with a figure.
    pub n: usize,
    /// Of these, shifts whose figure is an interval.
    pub censored: usize,
    /// Shifts without a figure, which are no part of the profile.
    pub left_out: Vec<LeftOut>,
    /// Shifts that stand in the profile with more than their own figure, as their limit is lowered for long work.
    pub raised: Vec<Raised>,
    /// Shifts without a short-term window of three tubes, against a short-term limit: they are screened and not measured.
    pub screened: usize,
    /// The figures by name, in the order in which they are printed.
    #[serde(serialize_with = "by_name")]
    pub profile: Vec<(&'static str, Figure)>,
    /// How well a lognormal distribution fits, and whether the figures drift with time: p-values and a correlation.
    #[serde(serialize_with = "by_name")]
    pub fit: Vec<(&'static str, Figure)>,
    /// What other methods say where shift figures are known as ranges.
    #[serde(serialize_with = "by_name")]
    pub second_opinion: Vec<(&'static str, Figure)>,
    /// The probability plot.
    pub plot: ProbabilityPlot,
    /// Chances and credible limits under a prior.
    pub posterior: PosteriorResult,
    /// Where the prior is the user's: the same under the program's own flat one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub posterior_flat: Option<PosteriorResult>,
    /// What the verdicts must carry where the workers are not one group.
    pub not_one_group: Option<String>,
    /// How long the assessment may stand: a proposal, in months.
    pub reassess: Figure,
    /// Every rule asked for.
    pub verdicts: Vec<RuleResult>,
    /// Between and within workers.
    pub workers: WorkersResult,
    /// What drives the exposure, against a TWA limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drivers: Option<DriversResult>,
}

/// A shift that counts by more than its figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Raised {
    /// The shift.
    pub shift: String,
    /// How many times its figure: as far as its limit is lowered.
    pub factor: f64,
}

/// What drives the exposure of a group.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DriversResult {
    /// Each task's share of the dose of all shifts, in the order of the study's tasks.
    pub tasks: Vec<DriverResult>,
    /// The task with the largest share.
    pub largest: String,
    /// The 95th percentile with the mean of that task halved in every shift.
    pub p95_halved: Figure,
    /// The exceedance then.
    pub exceedance_halved: Figure,
}

/// A task's share of the dose of a group.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DriverResult {
    /// The task.
    pub task: String,
    /// Its share.
    pub share: Figure,
}

impl GroupResult {
    /// Every figure of the group with the end of its address: the profile's and fit's by name, the others below
    /// `second_opinion`, `posterior`, `workers`, `to-settle` and `drivers`.
    pub fn figures(&self) -> impl Iterator<Item = (String, &Figure)> {
        let plain = self.profile.iter().chain(&self.fit).map(|(name, figure)| ((*name).to_owned(), figure));
        let folders = [
            ("second_opinion", &self.second_opinion),
            ("posterior", &self.posterior.figures),
            ("workers", &self.workers.figures),
        ];
        let further = folders.into_iter().flat_map(|(folder, figures)| {
            figures.iter().map(move |(name, figure)| (format!("{folder}/{name}"), figure))
        });
        let more = self.verdicts.iter().filter_map(|verdict| {
            Some((format!("to-settle/{}", verdict.rule), verdict.more_shifts.as_ref()?))
        });
        let flat = self.posterior_flat.iter().flat_map(|flat| &flat.figures);
        let flat = flat.map(|(name, figure)| (format!("posterior_flat/{name}"), figure));
        let reassess = std::iter::once(("reassess".to_owned(), &self.reassess));
        let drivers = self.drivers.iter().flat_map(|drivers| {
            let shares =
                drivers.tasks.iter().map(|driver| (format!("drivers/{}", driver.task), &driver.share));
            let halved =
                [("p95_halved", &drivers.p95_halved), ("exceedance_halved", &drivers.exceedance_halved)];
            shares.chain(halved.map(|(name, figure)| (format!("drivers/{name}"), figure)))
        });
        plain.chain(further).chain(flat).chain(more).chain(reassess).chain(drivers)
    }
}

/// A shift that is no part of its group's profile.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeftOut {
    /// The shift.
    pub shift: String,
    /// Why it has no figure.
    pub reason: String,
}

/// A lognormal probability plot.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct ProbabilityPlot {
    /// The shift figures, from the lowest up.
    pub figures: Vec<PlottedFigure>,
    /// The fitted line with its limits; empty where no distribution can be fitted.
    pub line: Vec<PlottedShare>,
}

/// A shift figure at its place in the plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlottedFigure {
    /// The shift.
    pub shift: String,
    /// Lower end.
    pub low: f64,
    /// Upper end; `None` where it has none.
    pub high: Option<f64>,
    /// The normal score of its rank.
    pub score: f64,
}

/// The fitted percentile of a share of shifts, with its one-sided 95 % limits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlottedShare {
    /// The share of shifts below it.
    pub share: f64,
    /// The normal score of that share.
    pub score: f64,
    /// The percentile.
    pub value: f64,
    /// Its lower limit.
    pub low: Option<f64>,
    /// Its upper limit.
    pub high: Option<f64>,
}

/// Chances and credible limits under a prior.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PosteriorResult {
    /// The prior, in words.
    pub prior: String,
    /// The figures by name.
    #[serde(flatten, serialize_with = "by_name")]
    pub figures: Vec<(&'static str, Figure)>,
}

/// Between and within workers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorkersResult {
    /// Workers with at least one shift figure.
    pub workers: usize,
    /// Workers whose own level stands apart from the group's.
    pub apart: Vec<String>,
    /// The figures by name.
    #[serde(flatten, serialize_with = "by_name")]
    pub figures: Vec<(&'static str, Figure)>,
}

/// The chance that more shifts settle a verdict, were the profile's estimates the truth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SettlingCurve {
    /// The verdict towards which the profile lies.
    pub towards: Verdict,
    /// The chance by the number of further shifts, rising.
    pub chances: Vec<SettlingChance>,
}

/// A chance of that curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SettlingChance {
    /// Further shifts.
    pub more_shifts: usize,
    /// The chance that with them the verdict is settled.
    pub chance: f64,
}

/// What one rule says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RuleResult {
    /// The rule.
    pub rule: &'static str,
    /// Its verdict.
    pub verdict: Verdict,
    /// Why.
    pub because: String,
    /// What would settle it, where it is undecided.
    pub to_settle: Option<String>,
    /// How many more shifts would, with the working.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub more_shifts: Option<Figure>,
    /// The chance that so many more shifts would.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub settling: Option<SettlingCurve>,
    /// Where the rule comes from.
    pub source: &'static str,
}

/// Figures as a mapping by their names.
pub(in crate::model) fn by_name<S: serde::Serializer>(
    figures: &[(&'static str, Figure)],
    to: S,
) -> Result<S::Ok, S::Error> {
    to.collect_map(figures.iter().map(|(name, figure)| (name, figure)))
}
