//! Limits, and mixtures held against them.

use super::Ref;
use super::quantity::{Amount, Minutes};
use super::study::Agent;
use crate::diagnose::Span;

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

impl Adjust {
    /// All of them.
    pub const ALL: [Adjust; 4] = [Adjust::None, Adjust::Daily, Adjust::Weekly, Adjust::LeadStyle];

    /// The word used in the study file and everywhere else.
    pub fn word(self) -> &'static str {
        match self {
            Adjust::None => "none",
            Adjust::Daily => "daily",
            Adjust::Weekly => "weekly",
            Adjust::LeadStyle => "lead-style",
        }
    }
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
