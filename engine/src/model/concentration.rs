//! A concentration: always an interval.

use super::Ref;
use super::study::Agent;

/// A closed interval of concentrations; a point where both ends are equal; `high` may be infinite.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    low: f64,
    high: f64,
}

impl Interval {
    /// The interval from `low` to `high`; `None` unless `0 <= low <= high` and `low` is finite.
    pub fn new(low: f64, high: f64) -> Option<Interval> {
        (low.is_finite() && low >= 0.0 && high >= low).then_some(Interval { low, high })
    }

    /// No exposure.
    pub const ZERO: Interval = Interval { low: 0.0, high: 0.0 };

    /// Lower end.
    pub fn low(self) -> f64 {
        self.low
    }

    /// Upper end, possibly infinite.
    pub fn high(self) -> f64 {
        self.high
    }

    /// Whether it is a single value.
    pub fn is_point(self) -> bool {
        self.low == self.high
    }

    /// The value that stands for it: the middle; `None` where it has no upper end.
    pub fn middle(self) -> Option<f64> {
        self.high.is_finite().then_some(0.5 * (self.low + self.high))
    }

    /// Both ends times a factor that is finite and not negative.
    pub fn times(self, factor: f64) -> Interval {
        debug_assert!(factor.is_finite() && factor >= 0.0);
        let high = if factor == 0.0 { 0.0 } else { self.high * factor };
        Interval { low: self.low * factor, high }
    }

    /// The sum of two.
    pub fn plus(self, other: Interval) -> Interval {
        Interval { low: self.low + other.low, high: self.high + other.high }
    }
}

/// A reading after correction.
#[derive(Debug, Clone, PartialEq)]
pub struct Concentration {
    /// Number of the reading in the study.
    pub reading: usize,
    /// The substance.
    pub agent: Ref<Agent>,
    /// The concentration at the tube, in the agent's unit.
    pub interval: Interval,
    /// Minutes of drawing, where the tube sheet tells the time of a stroke.
    pub drawn_minutes: Option<f64>,
    /// Relative standard deviation of the tube, as a fraction.
    pub relative_sd: f64,
    /// Why it takes no part in shift figures; `None` where it does.
    pub why_not: Option<String>,
}
