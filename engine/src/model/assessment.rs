//! The result of the whole: plain data, complete; everything printed anywhere is a view of it.

use super::field_quality::FieldQuality;
use super::figure::Figure;
use super::profile::Verdict;
use super::report::ReportWords;
use super::step::Step;
use super::study::LimitKind;
use crate::diagnose::Report;
use serde::Serialize;
use std::collections::BTreeMap;

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

/// One reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingResult {
    /// Name.
    pub id: String,
    /// Who.
    pub worker: String,
    /// The shift it belongs to; an area or blank reading may belong to none.
    pub shift: Option<String>,
    /// During what.
    pub task: String,
    /// The substance.
    pub agent: String,
    /// Where it stands in the study, as `readings.csv:14`.
    pub place: String,
    /// The tube type.
    pub tube: String,
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
    /// Beginning, local time.
    pub start: String,
    /// End, local time.
    pub end: String,
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
    /// Share of the minutes whose task was measured.
    pub covered: f64,
    /// Share of the minutes under each rule for unsampled time.
    pub unsampled: BTreeMap<&'static str, f64>,
    /// By task.
    pub tasks: Vec<TaskResult>,
    /// What was done when; empty where the diary tells minutes only.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub diary: Vec<DiaryStretch>,
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
    /// Whether fewer than three tubes stand in it.
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
pub(super) fn by_name<S: serde::Serializer>(
    figures: &[(&'static str, Figure)],
    to: S,
) -> Result<S::Ok, S::Error> {
    to.collect_map(figures.iter().map(|(name, figure)| (name, figure)))
}
