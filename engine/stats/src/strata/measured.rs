//! The interval where nothing is known of the spread between readings: the error of the readings alone.

use super::stratum::{Stratum, refused};
use crate::special::normal;
use crate::{Error, Result};

/// The sampled part with each reading at its lower and at its upper bound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MeasuredOnly {
    low: Ends,
    high: Ends,
}

/// A weighted mean of readings and the standard deviation of its logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Ends {
    mean: f64,
    sd_ln: f64,
}

impl MeasuredOnly {
    pub fn new(strata: &[Stratum]) -> Result<Self> {
        Ok(MeasuredOnly { low: ends(strata, |o| o.low())?, high: ends(strata, |o| o.high())? })
    }

    pub fn lower(&self, confidence: f64) -> Result<f64> {
        self.low.limit(-normal::quantile(confidence)?)
    }

    pub fn upper(&self, confidence: f64) -> Result<f64> {
        self.high.limit(normal::quantile(confidence)?)
    }
}

impl Ends {
    fn limit(&self, deviate: f64) -> Result<f64> {
        let limit = self.mean * (deviate * self.sd_ln).exp();
        if limit.is_finite() {
            return Ok(limit);
        }
        Err(refused("limit of the mean of strata", limit, "a figure below 1e308"))
    }
}

fn ends(strata: &[Stratum], end: impl Fn(&crate::censored::Observation) -> f64) -> Result<Ends> {
    let (mut mean, mut squares) = (0.0, 0.0);
    for stratum in strata {
        let Stratum::Sampled { weight, readings, relative_sd } = stratum else { continue };
        if *weight == 0.0 {
            continue;
        }
        let relative = relative_sd.ok_or(ABSENT)?;
        for reading in readings {
            let part = weight / readings.len() as f64 * end(reading);
            mean += part;
            squares += (relative * part).powi(2);
        }
    }
    if !mean.is_finite() {
        return Err(refused("upper bound of a reading", mean, "finite where the spread is not known"));
    }
    let relative_square = if mean > 0.0 { squares / mean / mean } else { 0.0 };
    Ok(Ends { mean, sd_ln: relative_square.ln_1p().sqrt() })
}

const ABSENT: Error = Error::OutsideDomain {
    what: "number of relative standard deviations given",
    value: 0.0,
    allowed: "one for every sampled stratum, where no stratum has two different readings",
};
