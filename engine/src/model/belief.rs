//! What the user believes of a group's exposure before the data, and how long an assessment may stand.

use super::Ref;
use super::limit::LimitKind;
use super::study::Agent;
use crate::diagnose::Span;

/// What is believed of the shift figures held against a limit before the data.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// The substance.
    pub agent: Ref<Agent>,
    /// The kind of limit.
    pub kind: LimitKind,
    /// The geometric mean, as a share of the limit.
    pub gm: Believed,
    /// The geometric standard deviation.
    pub gsd: Believed,
    /// What the belief rests on.
    pub source: String,
    /// Its place.
    pub span: Span,
}

/// A belief of one figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Believed {
    /// Anywhere between two values, evenly on the logarithmic scale.
    Between {
        /// The lowest.
        lowest: f64,
        /// The highest.
        highest: f64,
    },
    /// About a value: half of the belief lies below it.
    About {
        /// The median.
        median: f64,
        /// The factor of one standard deviation of the belief, above 1.
        factor: f64,
    },
}

/// How long an assessment may stand before the next, by the GM of the group.
#[derive(Debug, Clone, PartialEq)]
pub struct Reassessment {
    /// Where the steps come from.
    pub source: String,
    /// Rising: below this share of the limit, so many months; the last has no share.
    pub steps: Vec<(Option<f64>, u32)>,
}

impl Default for Reassessment {
    /// EN 689:2018, annex I (informative), recalled from memory.
    fn default() -> Self {
        Reassessment {
            source:
                "EN 689:2018, annex I (informative), recalled from memory: check it before you rely on it"
                    .to_owned(),
            steps: vec![(Some(0.1), 36), (Some(0.25), 24), (Some(0.5), 18), (None, 12)],
        }
    }
}
