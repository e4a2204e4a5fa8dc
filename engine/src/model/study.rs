//! A study: what the user declared in `study.yaml` and its tables.

use super::belief::{Belief, Reassessment};
use super::faulty::Faulty;
use super::field_work::{FieldRule, SpoiledTube};
use super::quantity::{Amount, Celsius, ConcentrationUnit, KiloPascal, Minutes};
use super::reading::Reading;
use super::report::ReportWords;
use super::{Clock, Named, Ref};
use crate::diagnose::{Code, Decision, Span};
use chrono::NaiveDateTime;

/// One assessment, as read: every name resolved, every field with its place.
#[derive(Default, Clone)]
pub struct Study {
    /// Title of the report.
    pub title: String,
    /// Where the work was done.
    pub site: String,
    /// Who signs.
    pub prepared_by: String,
    /// Conditions and volume at which ppm and mg/m3 are converted.
    pub reference: Reference,
    /// Substances.
    pub agents: Named<Agent>,
    /// Limits, in the user's order.
    pub limits: Vec<Limit>,
    /// Substances whose effects add up, in the user's order.
    pub additive: Vec<Mixture>,
    /// Tube sheets.
    pub tubes: Named<Tube>,
    /// Hand pumps.
    pub pumps: Named<Pump>,
    /// Tasks.
    pub tasks: Named<Task>,
    /// Similar-exposure groups.
    pub groups: Named<Group>,
    /// Workers.
    pub workers: Named<Worker>,
    /// How local times become instants.
    pub clock: Clock,
    /// How shifts are formed and weighed.
    pub shift: ShiftSettings,
    /// Rules asked for, by kind of limit, each with its place.
    pub rules: Vec<(LimitKind, Vec<(String, Span)>)>,
    /// What the study decides about findings of its field work.
    pub field_rules: Vec<FieldRule>,
    /// What is believed before the data.
    pub beliefs: Vec<Belief>,
    /// How long an assessment may stand.
    pub reassessment: Reassessment,
    /// The readings, in the order of their table.
    pub readings: Vec<Reading>,
    /// Tubes that could not be read, in the order of their table.
    pub spoiled: Vec<SpoiledTube>,
    /// The diary, in the order of its table.
    pub diary: Vec<DiaryRow>,
    /// The leak checks, in the order of their table.
    pub leak_checks: Vec<LeakCheck>,
    /// The user's own words for the report.
    pub report: ReportWords,
    /// Parts that have faults, which have been reported: what they lack is no news.
    pub faulty: Faulty,
}

impl Study {
    /// The unit in which an agent's figures are given: that of its first limit, else that of its first tube.
    pub fn unit(&self, agent: Ref<Agent>) -> ConcentrationUnit {
        let limit = self.limits.iter().find(|l| l.agent == agent).map(|l| l.value.unit);
        let tube = || self.tubes.iter().find(|(.., t)| t.agent == agent).map(|(.., t)| t.unit);
        limit.or_else(tube).unwrap_or(ConcentrationUnit::Ppm)
    }

    /// What the study decides about the readings that a finding names.
    pub fn decision(&self, code: &Code) -> Option<&Decision> {
        self.field_rules.iter().find(|rule| rule.code.id == code.id).map(|rule| &rule.decision)
    }

    /// Substances that were present at a reading and that its tube also shows, each with its ppm where known.
    pub fn interferents<'a>(
        &'a self,
        reading: &'a Reading,
    ) -> impl Iterator<Item = (&'a Interference, Option<f64>)> + 'a {
        let group = &self.groups[self.workers[reading.worker].group];
        self.tubes[reading.tube].interferes.iter().filter_map(move |interference| {
            let told = reading
                .circumstances()
                .present
                .iter()
                .chain(&group.present)
                .find(|(name, _)| *name == interference.agent)?;
            Some((interference, told.1))
        })
    }
}

/// Conditions for the conversion between ppm and mg/m3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Temperature.
    pub temperature: Celsius,
    /// Pressure.
    pub pressure: KiloPascal,
    /// The molar volume, in litres per mole.
    pub molar_volume: MolarVolume,
}

/// Where the molar volume of the conversion comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MolarVolume {
    /// From the gas law at the reference conditions.
    GasLaw,
    /// A conventional number entered by the user, in litres per mole (tables print 24.45).
    Conventional(f64),
}

impl Default for Reference {
    fn default() -> Self {
        Reference {
            temperature: Celsius(25.0),
            pressure: super::quantity::ATMOSPHERE,
            molar_volume: MolarVolume::GasLaw,
        }
    }
}

/// A substance.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Agent {
    /// Registry number.
    pub cas: Option<String>,
    /// Molar mass in g/mol.
    pub molar_mass: Option<f64>,
}

/// The kind of an occupational exposure limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LimitKind {
    /// Time-weighted average over the reference period.
    Twa,
    /// Average over a short window, usually 15 minutes.
    ShortTerm,
    /// Not to be exceeded at any time.
    Ceiling,
    /// The index of a mixture, held against 1; the user enters the substances, not the limit.
    Mixture,
}

impl LimitKind {
    /// The word used in the study file and everywhere else.
    pub fn word(self) -> &'static str {
        match self {
            LimitKind::Twa => "twa",
            LimitKind::ShortTerm => "short-term",
            LimitKind::Ceiling => "ceiling",
            LimitKind::Mixture => "mixture",
        }
    }
}

/// A limit the user entered.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The substance.
    pub agent: Ref<Agent>,
    /// The kind.
    pub kind: LimitKind,
    /// The value.
    pub value: Amount,
    /// Averaging time of a short-term limit.
    pub averaging: Minutes,
    /// How the limit is lowered for long shifts.
    pub adjust: Adjust,
    /// How often a shift may reach into the range of a short-term limit.
    pub at_most: Option<u32>,
    /// How far apart such occasions must lie.
    pub at_least_apart: Option<Minutes>,
    /// Where the user took it from.
    pub source: String,
    /// Its place.
    pub span: Span,
}

/// Substances whose effects add up: the sum of TWA over limit is held against 1 [OSHA-1910.1000(d)(2)].
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    /// Its substances, two or more, each with a TWA limit.
    pub agents: Vec<Ref<Agent>>,
    /// Its place.
    pub span: Span,
}

impl Study {
    /// What a mixture is called: its substances joined by plus signs.
    pub fn mixture_name(&self, mixture: &Mixture) -> String {
        mixture.agents.iter().map(|&agent| self.agents.name(agent)).collect::<Vec<&str>>().join("+")
    }

    /// The rules asked for against a kind of limit; a mixture is judged as a TWA is where it has no rules of its own.
    pub fn rules_for(&self, kind: LimitKind) -> impl Iterator<Item = &str> {
        let own = self.rules.iter().any(|(of, _)| *of == kind);
        let kind = if kind == LimitKind::Mixture && !own { LimitKind::Twa } else { kind };
        let rules = self.rules.iter().filter(move |(of, _)| *of == kind);
        rules.flat_map(|(_, names)| names).map(|(name, _)| name.as_str())
    }

    /// Number of an agent's first TWA limit.
    pub fn twa_limit(&self, agent: Ref<Agent>) -> Option<usize> {
        self.limits.iter().position(|limit| limit.agent == agent && limit.kind == LimitKind::Twa)
    }
}

/// How a TWA limit is lowered for long shifts or weeks; never raised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Adjust {
    /// Not at all.
    #[default]
    None,
    /// `(8/h) x (24-h)/16` by the hours of the shift [Brief-Scala-1975].
    Daily,
    /// `(40/h) x (168-h)/128` by the hours of the week [Brief-Scala-1975].
    Weekly,
    /// `8/h` by the hours of the shift, as 29 CFR 1910.1025(c)(2) does for lead.
    LeadStyle,
}

/// The limits of a study in the unit of their agents' figures, lowered for long shifts where the user asked for it.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitValues {
    /// Each limit as entered, in the order of the limits.
    pub entered: Vec<f64>,
    /// The factor by which each limit is lowered in each shift, on the scale of the TWA over the reference period: by limit,
    /// then by shift. A limit that the user does not want adjusted has 1.
    pub reductions: Vec<Vec<f64>>,
}

impl LimitValues {
    /// A limit as it holds for a shift.
    pub fn in_shift(&self, limit: usize, shift: usize) -> f64 {
        self.entered[limit] * self.reductions[limit][shift]
    }
}

/// One entry of the tube sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// The substance it shows.
    pub agent: Ref<Agent>,
    /// Printed marks, rising; the ends are the range.
    pub marks: Vec<f64>,
    /// Unit of the scale.
    pub unit: ConcentrationUnit,
    /// Strokes for which the scale is printed.
    pub strokes: f64,
    /// Other stroke numbers on the sheet, each with the factor for its reading.
    pub other_strokes: Vec<(f64, f64)>,
    /// Volume of a stroke in millilitres.
    pub stroke_volume_ml: f64,
    /// Time that a stroke takes.
    pub stroke_time: Option<Minutes>,
    /// Relative standard deviation of a reading, as a fraction.
    pub relative_sd: Option<f64>,
    /// Factors by temperature in degrees Celsius, rising.
    pub temperature: Vec<(f64, f64)>,
    /// Factors by relative humidity in per cent, rising.
    pub humidity: Vec<(f64, f64)>,
    /// Whether the reading is corrected in proportion to the air pressure.
    pub pressure_proportional: bool,
    /// Substances that change the reading.
    pub interferes: Vec<Interference>,
    /// Colour change.
    pub colour: Option<String>,
    /// Pre-tube that must be drawn first.
    pub pre_tube: Option<String>,
    /// Time within which the stain must be read.
    pub read_within: Option<Minutes>,
    /// Outer diameter in millimetres.
    pub diameter_mm: Option<f64>,
    /// Tubes in a box.
    pub per_box: Option<u32>,
    /// What the tube contains, for its disposal.
    pub contains: Option<String>,
    /// Expiry dates by lot.
    pub expires: Vec<(String, chrono::NaiveDate)>,
    /// Its place.
    pub span: Span,
}

/// How another substance changes a tube's reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Interference {
    /// The other substance, by the user's name for it.
    pub agent: String,
    /// Whether it makes the tube read higher or lower.
    pub reads_higher: bool,
    /// Scale units of reading per ppm of the other substance, where the sheet gives them.
    pub per_ppm: Option<f64>,
}

/// One hand pump.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pump {
    /// Volume of a stroke in millilitres, where it differs from 100.
    pub stroke_volume_ml: Option<f64>,
}

/// What stands for the minutes of a task in which no tube was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unsampled {
    /// No exposure, on the user's word.
    Zero,
    /// Between none and the highest task mean of that shift.
    #[default]
    Bounds,
    /// The same task's readings from the other shifts of the group.
    Borrow,
}

impl Unsampled {
    /// The word used in the study file.
    pub fn word(self) -> &'static str {
        match self {
            Unsampled::Zero => "zero",
            Unsampled::Bounds => "bounds",
            Unsampled::Borrow => "borrow",
        }
    }
}

/// A named activity with its own exposure character.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Task {
    /// What stands for its minutes where no tube was drawn.
    pub unsampled: Unsampled,
    /// Assigned protection factor of the respirator worn, where one is.
    pub protection_factor: Option<f64>,
}

/// A similar-exposure group.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// How many people belong to it, where known.
    pub population: Option<u32>,
    /// Substances it is assessed for.
    pub agents: Vec<Ref<Agent>>,
    /// Interfering substances that are always present, each with its ppm where known.
    pub present: Vec<(String, Option<f64>)>,
    /// Its place.
    pub span: Span,
}

/// One person.
#[derive(Debug, Clone, PartialEq)]
pub struct Worker {
    /// The group.
    pub group: Ref<Group>,
}

/// How shifts are formed and weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShiftSettings {
    /// Reference period of the TWA, 8 h whatever the length of the shift.
    pub reference: Minutes,
    /// Rest after which a new shift begins.
    pub new_after: Minutes,
    /// Usual working time in a week, where the user tells it.
    pub week: Option<Minutes>,
    /// What stands for unsampled minutes of the tasks that say nothing of their own.
    pub unsampled: Unsampled,
}

impl Default for ShiftSettings {
    fn default() -> Self {
        ShiftSettings {
            reference: Minutes(480.0),
            new_after: Minutes(240.0),
            week: None,
            unsampled: Unsampled::default(),
        }
    }
}

/// One row of the diary.
#[derive(Debug, Clone, PartialEq)]
pub struct DiaryRow {
    /// Who.
    pub worker: Ref<Worker>,
    /// What.
    pub task: Ref<Task>,
    /// When.
    pub when: DiaryTime,
    /// Its row.
    pub span: Span,
}

/// The two forms of telling a task's time; after combining they are the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DiaryTime {
    /// By the clock.
    Clock {
        /// From.
        start: NaiveDateTime,
        /// To, excluded.
        end: NaiveDateTime,
    },
    /// By minutes within a shift.
    Minutes {
        /// When the shift began; midnight where only its date is told.
        shift: NaiveDateTime,
        /// How long.
        minutes: Minutes,
    },
}

/// One test of a pump with an unopened tube.
#[derive(Debug, Clone, PartialEq)]
pub struct LeakCheck {
    /// The pump.
    pub pump: Ref<Pump>,
    /// The tube type that was in it.
    pub tube: Ref<Tube>,
    /// When.
    pub at: NaiveDateTime,
    /// Whether it held.
    pub passed: bool,
    /// Its row.
    pub span: Span,
}
