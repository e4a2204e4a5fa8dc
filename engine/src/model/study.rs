//! A study: what the user declared in `study.yaml` and its tables.

use super::belief::{Belief, Reassessment};
use super::faulty::Faulty;
use super::field_work::{FieldRule, SpoiledTube};
use super::limit::{Limit, LimitKind, Mixture};
use super::quantity::{Celsius, ConcentrationUnit, KiloPascal, Minutes};
use super::reading::Reading;
use super::report::ReportWords;
use super::tube::{Interference, Pump, Tube};
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

    /// The group of the person who wore a tube.
    pub fn group_of(&self, reading: &Reading) -> Option<Ref<Group>> {
        reading.worker.map(|worker| self.workers[worker].group)
    }

    /// Substances that were present at a reading and that its tube also shows, each with its ppm where known.
    pub fn interferents<'a>(
        &'a self,
        reading: &'a Reading,
    ) -> impl Iterator<Item = (&'a Interference, Option<f64>)> + 'a {
        let group = self.group_of(reading).map(|group| &self.groups[group]);
        self.tubes[reading.tube].interferes.iter().filter_map(move |interference| {
            let told = reading
                .circumstances()
                .present
                .iter()
                .chain(group.into_iter().flat_map(|group| &group.present))
                .find(|(name, _)| interference.is(name))?;
            Some((interference, told.1))
        })
    }

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
