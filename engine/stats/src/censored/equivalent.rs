//! The complete sample that tells as much of location and spread as a censored one, for the limits of the mean.

use super::likelihood::{Derivatives, Point};
use crate::Result;
use crate::complete::arithmetic_mean::ln_estimate;
use crate::complete::land::{Location, ln_mean_lower, ln_mean_upper};
use crate::numeric::quadrature::GAUSS_16;
use crate::special::normal;

/// The density of ln sigma is followed until it has fallen by exp(-DROP).
const DROP: f64 = 36.0;

/// Location, standard deviation, degrees of freedom and number of values, none of them necessarily whole.
///
/// The degrees of freedom are those at which the integrated likelihood of ln sigma is as sharply curved at its peak (curvature -2 v for
/// a complete sample), the number that at which the likelihood of mu given sigma is (-n / sigma^2).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Equivalent {
    location: Location,
}

impl Equivalent {
    pub(super) fn new(at: Point, d: &Derivatives, curvature: f64) -> Result<Self> {
        let df = (-0.5 * curvature).max(1.0);
        Ok(Equivalent { location: Location::new(at.mu, at.tau.exp(), df, -d.mu_mu)? })
    }

    /// ln of Finney's estimate of the mean.
    pub(super) fn ln_mean(&self) -> Result<f64> {
        ln_estimate(&self.location)
    }

    /// How probable the invariant posterior of the equivalent sample holds it that the mean lies below Land's lower and upper limits. Read
    /// at these probabilities, that posterior gives exact limits.
    pub(super) fn probabilities(&self, confidence: f64) -> Result<(f64, f64)> {
        let lower = ln_mean_lower(&self.location, confidence)?;
        let upper = ln_mean_upper(&self.location, confidence)?;
        Ok((self.probability_below(lower), self.probability_below(upper)))
    }

    /// With t = ln(sigma/s) the posterior has density proportional to exp(-v t - v exp(-2t)/2) in t, and mu is normal with
    /// variance sigma^2/n given sigma.
    fn probability_below(&self, ln_mean: f64) -> f64 {
        let (v, s, n) = (self.location.df(), self.location.sd_ln(), self.location.effective_n());
        let log_density = |t: f64| 0.5 * v - v * t - 0.5 * v * (-2.0 * t).exp();
        let below = |t: f64| {
            let sigma = s * t.exp();
            normal::lower((ln_mean - self.location.ln() - 0.5 * sigma * sigma) * n.sqrt() / sigma)
        };
        let (mut total, mut share) = (0.0, 0.0);
        for side in [-1.0, 1.0] {
            let (mut at, mut length) = (0.0, side * (0.5 / v).sqrt());
            while log_density(at) > -DROP {
                for (t, weight) in GAUSS_16.on(at, at + length) {
                    let mass = side * weight * log_density(t).exp();
                    total += mass;
                    share += mass * below(t);
                }
                at += length;
                length = side * (1.5 * length.abs()).min(0.5);
            }
        }
        share / total
    }
}
