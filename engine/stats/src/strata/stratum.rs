//! One stratum of time.

use crate::censored::Observation;
use crate::{Error, Result};

/// A stratum of time with what is known about the values in it.
///
/// `weight` is its time over the reference time, zero or above. A stratum of weight zero counts for nothing.
#[derive(Debug, Clone, PartialEq)]
pub enum Stratum {
    /// Values drawn at random within the stratum.
    Sampled {
        /// Its time over the reference time.
        weight: f64,
        /// At least one, exact or between bounds.
        readings: Vec<Observation>,
        /// The standard deviation of one reading's error over the true value; asked for only where the spread of the readings
        /// cannot be estimated.
        relative_sd: Option<f64>,
    },
    /// The mean is known without error; zero is allowed.
    Known {
        /// Its time over the reference time.
        weight: f64,
        /// The mean, zero or above.
        mean: f64,
    },
    /// Only bounds of the mean are known.
    Bounded {
        /// Its time over the reference time.
        weight: f64,
        /// The lowest it can be, zero or above.
        low: f64,
        /// The highest it can be, not below `low`.
        high: f64,
    },
}

impl Stratum {
    /// Its time over the reference time.
    pub fn weight(&self) -> f64 {
        match *self {
            Stratum::Sampled { weight, .. }
            | Stratum::Known { weight, .. }
            | Stratum::Bounded { weight, .. } => weight,
        }
    }

    /// What the stratum adds to the mean without any error: nothing where it was sampled.
    pub(super) fn fixed(&self) -> (f64, f64) {
        match *self {
            Stratum::Sampled { .. } => (0.0, 0.0),
            Stratum::Known { weight, mean } => (weight * mean, weight * mean),
            Stratum::Bounded { weight, low, high } => (weight * low, weight * high),
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        amount("weight of a stratum", self.weight())?;
        match self {
            Stratum::Sampled { readings, relative_sd, .. } => {
                if readings.is_empty() {
                    return Err(refused("number of readings of a stratum", 0.0, "1 or more"));
                }
                relative_sd.map_or(Ok(()), check_relative_sd)
            }
            Stratum::Known { mean, .. } => amount("known mean of a stratum", *mean),
            Stratum::Bounded { low, high, .. } => {
                amount("lower bound of a stratum's mean", *low)?;
                amount("upper bound of a stratum's mean", *high)?;
                if low <= high {
                    return Ok(());
                }
                Err(refused("upper bound of a stratum's mean", *high, "not below the lower bound"))
            }
        }
    }
}

fn check_relative_sd(value: f64) -> Result<()> {
    if value > 0.0 && value <= 10.0 {
        return Ok(());
    }
    Err(refused("relative standard deviation of a reading", value, "above 0 and at most 10"))
}

fn amount(what: &'static str, value: f64) -> Result<()> {
    if (0.0..=1e300).contains(&value) { Ok(()) } else { Err(refused(what, value, "from 0 to 1e300")) }
}

pub(super) fn refused(what: &'static str, value: f64, allowed: &'static str) -> Error {
    Error::OutsideDomain { what, value, allowed }
}
