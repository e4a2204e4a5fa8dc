//! The figures of a lognormal distribution for which limits can be asked, each as a curve in the (mu, ln sigma) plane.

use super::likelihood::Point;
use super::observation::outside;
use super::sample::Sample;
use crate::Result;
use crate::special::normal;

/// A figure of a lognormal distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// exp(mu).
    GeometricMean,
    /// exp(sigma).
    GeometricSd,
    /// exp(mu + sigma^2/2).
    Mean,
    /// The value with this probability (between 0 and 1) below it, exp(mu + z sigma).
    Percentile(f64),
    /// The probability above this positive value.
    Exceedance(f64),
}

/// One end of an interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// The limit.
    At(f64),
    /// The data set no bound on this side, or none that a number of double precision can hold.
    Unbounded,
}

impl Limit {
    /// The limit if there is one.
    pub fn value(self) -> Option<f64> {
        match self {
            Limit::At(value) => Some(value),
            Limit::Unbounded => None,
        }
    }
}

/// An estimate between two one-sided limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// The estimate.
    pub estimate: Limit,
    /// The lower limit, holding with the confidence asked for.
    pub lower: Limit,
    /// The upper limit, holding with the confidence asked for.
    pub upper: Limit,
}

/// A quantity on the centred scale, as a number psi that rises with it: mu + z sigma, mu + sigma^2/2, (mu - l)/sigma or tau.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Curve {
    Percentile { z: f64 },
    Mean,
    Exceedance { log_limit: f64 },
    Spread,
}

impl Curve {
    pub(crate) fn new(sample: &Sample, quantity: Quantity) -> Result<Self> {
        Ok(match quantity {
            Quantity::GeometricMean => Curve::Percentile { z: 0.0 },
            Quantity::GeometricSd => Curve::Spread,
            Quantity::Mean => Curve::Mean,
            Quantity::Percentile(p) => Curve::Percentile { z: normal::quantile(p)? },
            Quantity::Exceedance(limit) if limit > 0.0 && limit < f64::INFINITY => {
                Curve::Exceedance { log_limit: sample.log_of(limit) }
            }
            Quantity::Exceedance(limit) => {
                return Err(outside("value to be exceeded", limit, "a positive finite number"));
            }
        })
    }

    /// psi at a point.
    pub(crate) fn psi(self, at: Point) -> f64 {
        let sigma = at.tau.exp();
        match self {
            Curve::Percentile { z } => at.mu + z * sigma,
            Curve::Mean => at.mu + 0.5 * sigma * sigma,
            Curve::Exceedance { log_limit } => (at.mu - log_limit) / sigma,
            Curve::Spread => at.tau,
        }
    }

    /// mu on the curve `psi` at `tau`. Along `Spread` mu is free and the answer is meaningless.
    pub(crate) fn mu(self, psi: f64, tau: f64) -> f64 {
        let sigma = tau.exp();
        match self {
            Curve::Percentile { z } => psi - z * sigma,
            Curve::Mean => psi - 0.5 * sigma * sigma,
            Curve::Exceedance { log_limit } => log_limit + psi * sigma,
            Curve::Spread => f64::NAN,
        }
    }

    /// First and second derivative of mu along the curve by tau, and the derivative of mu by psi, in units of sigma.
    pub(crate) fn slopes(self, psi: f64, tau: f64) -> (f64, f64, f64) {
        let sigma = tau.exp();
        match self {
            Curve::Percentile { z } => (-z, -z, 1.0 / sigma),
            Curve::Mean => (-sigma, -2.0 * sigma, 1.0 / sigma),
            Curve::Exceedance { .. } => (psi, psi, 1.0),
            Curve::Spread => (0.0, 0.0, 0.0),
        }
    }

    /// Derivatives of psi by mu (times sigma) and by tau.
    pub(crate) fn gradient(self, at: Point) -> (f64, f64) {
        let sigma = at.tau.exp();
        match self {
            Curve::Percentile { z } => (sigma, z * sigma),
            Curve::Mean => (sigma, sigma * sigma),
            Curve::Exceedance { .. } => (1.0, -self.psi(at)),
            Curve::Spread => (0.0, 1.0),
        }
    }

    /// The quantity that belongs to `psi`, unbounded where double precision cannot hold it.
    pub(crate) fn value(self, sample: &Sample, psi: f64) -> Limit {
        let value = match self {
            Curve::Percentile { .. } | Curve::Mean => sample.value_of(psi),
            Curve::Exceedance { .. } => normal::lower(psi),
            Curve::Spread => psi.exp().exp(),
        };
        if value.is_finite() { Limit::At(value) } else { Limit::Unbounded }
    }

    /// The psi that belongs to a value of the quantity.
    pub(crate) fn psi_of(self, sample: &Sample, value: f64) -> Result<f64> {
        match self {
            Curve::Exceedance { .. } => normal::quantile(value),
            Curve::Spread if value > 1.0 && value < f64::INFINITY => Ok(value.ln().ln()),
            Curve::Spread => Err(outside("geometric standard deviation", value, "above 1 and finite")),
            _ if value > 0.0 && value < f64::INFINITY => Ok(sample.log_of(value)),
            _ => Err(outside("value", value, "a positive finite number")),
        }
    }

    /// Beyond these psi the quantity is 0, 1 or no double-precision number.
    pub(crate) fn reach(self) -> (f64, f64) {
        match self {
            Curve::Percentile { .. } | Curve::Mean => (-1e4, 1e4),
            Curve::Exceedance { .. } => (-40.0, 40.0),
            Curve::Spread => (-400.0, 7.0),
        }
    }
}

/// The standard normal quantile of a confidence or probability between 0 and 1.
pub(crate) fn probability_quantile(probability: f64) -> Result<f64> {
    let allowed = "between 0 and 1, both excluded";
    normal::quantile(probability).map_err(|_| outside("confidence or probability", probability, allowed))
}
