//! One value of which only bounds may be known.

use crate::{Error, Result};

/// A value known to lie between two bounds, on the scale of the measurement itself.
///
/// `low == high` is an exact value, `low == 0` a value known only from above (left-censored), `high` infinite a value known
/// only from below (right-censored). A lognormal variable is positive, so that `high` is above zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    low: f64,
    high: f64,
}

impl Observation {
    /// A value between `low` and `high`: `0 <= low <= high`, `low` finite, `high` above zero and possibly infinite.
    ///
    /// Fails with `OutsideDomain` otherwise.
    ///
    /// ```
    /// use fullshift_stats::censored::Observation;
    /// assert!(Observation::between(2.0, 5.0).is_ok());
    /// assert!(Observation::between(5.0, 2.0).is_err());
    /// ```
    pub fn between(low: f64, high: f64) -> Result<Self> {
        if !(0.0..f64::INFINITY).contains(&low) {
            return Err(outside("lower bound of an observation", low, "zero or a positive finite number"));
        }
        if !(high > 0.0 && high >= low) {
            return Err(outside(
                "upper bound of an observation",
                high,
                "positive and not below the lower bound",
            ));
        }
        Ok(Observation { low, high })
    }

    /// An exact value, positive and finite.
    pub fn exact(value: f64) -> Result<Self> {
        if value > 0.0 && value < f64::INFINITY {
            Ok(Observation { low: value, high: value })
        } else {
            Err(outside("exact value", value, "a positive finite number"))
        }
    }

    /// A value known to be below `bound`.
    pub fn below(bound: f64) -> Result<Self> {
        Self::between(0.0, bound)
    }

    /// A value known to be above `bound`.
    pub fn above(bound: f64) -> Result<Self> {
        Self::between(bound, f64::INFINITY)
    }

    /// The lower bound; zero if nothing is known from below.
    pub fn low(&self) -> f64 {
        self.low
    }

    /// The upper bound; infinite if nothing is known from above.
    pub fn high(&self) -> f64 {
        self.high
    }

    /// Whether both bounds are the same number.
    pub fn is_exact(&self) -> bool {
        self.low == self.high
    }

    /// Whether the value is known from both sides.
    pub fn is_bounded(&self) -> bool {
        self.low > 0.0 && self.high < f64::INFINITY
    }

    /// Whether nothing is known of the value.
    pub fn is_empty_handed(&self) -> bool {
        self.low == 0.0 && self.high == f64::INFINITY
    }
}

pub(crate) fn outside(what: &'static str, value: f64, allowed: &'static str) -> Error {
    Error::OutsideDomain { what, value, allowed }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_that_are_no_bounds_are_refused() {
        let bad = [
            (f64::NAN, 1.0),
            (1.0, f64::NAN),
            (-1.0, 1.0),
            (2.0, 1.0),
            (0.0, 0.0),
            (f64::INFINITY, f64::INFINITY),
        ];
        for (low, high) in bad {
            assert!(Observation::between(low, high).is_err(), "{low} {high}");
        }
        for value in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Observation::exact(value).is_err(), "{value}");
        }
    }

    #[test]
    fn each_kind_knows_what_it_is() {
        let (exact, below) = (Observation::exact(3.0).unwrap(), Observation::below(3.0).unwrap());
        let (above, unknown) = (Observation::above(3.0).unwrap(), Observation::above(0.0).unwrap());
        assert!(exact.is_exact() && exact.is_bounded() && !below.is_bounded() && !above.is_bounded());
        assert!(unknown.is_empty_handed() && !below.is_empty_handed());
    }
}
