//! A figure: a value with its interval, or the reason why not.

use super::step::Step;
use serde::Serialize;

/// A number as it leaves the engine.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Figure {
    /// A value.
    Given(Estimate),
    /// Only a lower end is known.
    AtLeast {
        /// The lower end.
        low: f64,
        /// The unit; empty for a pure number.
        unit: String,
        /// Why there is no value.
        not_given: String,
        /// How it came about.
        trail: Vec<Step>,
    },
    /// Nothing can be said.
    NotGiven {
        /// Why not.
        not_given: String,
    },
}

/// A value with its interval.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Lower end; `None` with the reason in `no_interval`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// Upper end; `None` with the reason in `no_interval`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
    /// One-sided confidence of each end; `None` where the ends are not a matter of chance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub confidence: Option<f64>,
    /// Further named limits, as `upper_70`.
    #[serde(flatten)]
    pub further: std::collections::BTreeMap<&'static str, f64>,
    /// Why an end is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_interval: Option<String>,
    /// The unit; empty for a pure number.
    pub unit: String,
    /// How value and interval were found, in a few words.
    pub method: String,
    /// How it came about.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trail: Vec<Step>,
}

impl Figure {
    /// A figure that cannot be given.
    pub fn not_given(reason: impl Into<String>) -> Figure {
        Figure::NotGiven { not_given: reason.into() }
    }

    /// A value whose ends are known and no matter of chance.
    pub fn between(value: f64, low: f64, high: f64, unit: &str, method: impl Into<String>) -> Figure {
        Figure::Given(Estimate {
            value,
            low: Some(low),
            high: Some(high),
            confidence: None,
            further: Default::default(),
            no_interval: None,
            unit: unit.to_owned(),
            method: method.into(),
            trail: Vec::new(),
        })
    }

    /// A value with one-sided limits at `confidence` on each side; a missing one needs a reason.
    pub fn estimate(
        value: f64,
        limits: (Option<f64>, Option<f64>),
        confidence: f64,
        unit: &str,
        method: impl Into<String>,
        no_interval: Option<String>,
    ) -> Figure {
        Figure::Given(Estimate {
            value,
            low: limits.0,
            high: limits.1,
            confidence: Some(confidence),
            further: Default::default(),
            no_interval,
            unit: unit.to_owned(),
            method: method.into(),
            trail: Vec::new(),
        })
    }

    /// A value that has no interval, with the reason.
    pub fn without_interval(
        value: f64,
        unit: &str,
        method: impl Into<String>,
        reason: impl Into<String>,
    ) -> Figure {
        Figure::Given(Estimate {
            value,
            low: None,
            high: None,
            confidence: None,
            further: Default::default(),
            no_interval: Some(reason.into()),
            unit: unit.to_owned(),
            method: method.into(),
            trail: Vec::new(),
        })
    }

    /// The same with its working.
    pub fn with_trail(mut self, steps: Vec<Step>) -> Figure {
        match &mut self {
            Figure::Given(Estimate { trail, .. }) | Figure::AtLeast { trail, .. } => *trail = steps,
            Figure::NotGiven { .. } => {}
        }
        self
    }

    /// The same without its working.
    pub fn without_trail(self) -> Figure {
        self.with_trail(Vec::new())
    }

    /// The value.
    pub fn value(&self) -> Option<f64> {
        match self {
            Figure::Given(e) => Some(e.value),
            _ => None,
        }
    }

    /// The lower end.
    pub fn low(&self) -> Option<f64> {
        match self {
            Figure::Given(e) => e.low,
            Figure::AtLeast { low, .. } => Some(*low),
            Figure::NotGiven { .. } => None,
        }
    }

    /// The upper end.
    pub fn high(&self) -> Option<f64> {
        match self {
            Figure::Given(e) => e.high,
            _ => None,
        }
    }

    /// The unit; empty for a pure number.
    pub fn unit(&self) -> &str {
        match self {
            Figure::Given(e) => &e.unit,
            Figure::AtLeast { unit, .. } => unit,
            Figure::NotGiven { .. } => "",
        }
    }

    /// Its working.
    pub fn trail(&self) -> &[Step] {
        match self {
            Figure::Given(e) => &e.trail,
            Figure::AtLeast { trail, .. } => trail,
            Figure::NotGiven { .. } => &[],
        }
    }

    /// Why there is no value.
    pub fn reason(&self) -> Option<&str> {
        match self {
            Figure::Given(_) => None,
            Figure::AtLeast { not_given, .. } | Figure::NotGiven { not_given } => Some(not_given),
        }
    }
}
