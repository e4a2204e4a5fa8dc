//! The posterior of mu at one value of the spread, which is log-concave.

use super::interpolation::Interpolation;
use super::problem::{Location, Problem};
use super::series::{LOCATION_NODES, Rule, Series};
use crate::censored::{Point, interval_log_probability, log_likelihood_of_groups};
use crate::special::normal;
use crate::{Error, Result};

const SQRT_2PI: f64 = 2.506_628_274_631_000_5;
/// The density is followed until it has fallen by exp(-DROP).
pub(super) const DROP: f64 = 24.0;
const STEPS: usize = 200;

/// The distribution of mu given tau.
#[derive(Debug, Clone)]
pub(super) enum Conditional {
    /// Normal, cut to bounds: complete samples. The log probability between the bounds comes along.
    Normal { mean: f64, sd: f64, low: f64, high: f64, log_inside: f64 },
    /// Any other.
    Series(Series),
}

/// Where the density of mu given tau is highest, and how wide it is there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Peak {
    pub(super) mu: f64,
    pub(super) log_density: f64,
    pub(super) width: f64,
}

impl Problem<'_> {
    /// The peak of the density of mu at `tau`, looked for from `start`: Newton's method between the points where the slope is
    /// known to be positive and negative.
    pub(super) fn peak(&self, tau: f64, start: f64) -> Result<Peak> {
        let sigma = tau.exp();
        let (mut low, mut high) = self.bounds();
        let mut mu = start.clamp(low, high);
        for _ in 0..STEPS {
            let d = self.derivatives(Point { mu, tau });
            let step = if d.mu_mu < 0.0 { -d.mu / d.mu_mu } else { d.mu.signum() }.clamp(-30.0, 30.0);
            if d.mu > 0.0 {
                low = mu
            } else {
                high = mu
            }
            let mut next = mu + step * sigma;
            if next < low || next > high {
                next = if low.is_finite() && high.is_finite() {
                    0.5 * (low + high)
                } else {
                    next.clamp(low, high)
                };
            }
            if step.abs() < 1e-3 || (next - mu).abs() <= 1e-6 * sigma.min(1.0) {
                let steep = if step.abs() < 1e-3 { f64::INFINITY } else { sigma / d.mu.abs() };
                let width = (sigma / (-d.mu_mu).max(1e-300).sqrt()).min(steep);
                return Ok(Peak { mu, log_density: d.value, width });
            }
            mu = next;
        }
        Err(Error::NoConvergence { what: "mode of the posterior" })
    }

    /// The distribution of mu at `tau` and the logarithm of its total, without the prior of the spread.
    pub(super) fn conditional(&self, rule: &Rule, tau: f64, start: f64) -> Result<(Conditional, f64, f64)> {
        if self.sample.is_complete() {
            return Ok(self.conditional_of_complete(tau));
        }
        let peak = self.peak(tau, start)?;
        let (low, high) = (self.reach(tau, &peak, -1.0), self.reach(tau, &peak, 1.0));
        let mut values = self.log_densities(rule, tau, low, high);
        values.iter_mut().for_each(|v| *v = (*v - peak.log_density).exp());
        let mut series = Series::new(rule, low, high, &values);
        let mass = series.mass();
        series.divide(mass);
        Ok((Conditional::Series(series), peak.log_density + mass.ln(), peak.mu))
    }

    /// The log density at the nodes. The part of the intervals, which costs most, is interpolated where that is safe.
    fn log_densities(&self, rule: &Rule, tau: f64, low: f64, high: f64) -> Vec<f64> {
        let sigma = tau.exp();
        let nodes = rule.gauss.on(low, high).map(|(mu, _)| mu);
        let half = 0.5 * (high - low) / sigma;
        let table =
            Interpolation::for_half_length(half).filter(|_| rule.gauss.nodes().len() == LOCATION_NODES);
        match table {
            Some(table) => {
                let groups = table.carry(low, high, |mu| log_likelihood_of_groups(self.sample, mu, sigma));
                nodes.zip(groups).map(|(mu, g)| g + self.log_density_of_exact(Point { mu, tau })).collect()
            }
            None => nodes.map(|mu| self.log_density(Point { mu, tau })).collect(),
        }
    }

    /// How far from the peak the density is worth following.
    pub(super) fn reach(&self, tau: f64, peak: &Peak, side: f64) -> f64 {
        let (low, high) = self.bounds();
        let mut distance = peak.width * (2.0 * DROP).sqrt();
        let mut mu = peak.mu;
        for _ in 0..40 {
            mu = (peak.mu + side * distance).clamp(low, high);
            let drop = peak.log_density - self.log_density(Point { mu, tau });
            let at_bound = mu == low || mu == high;
            if (at_bound && drop <= 1.5 * DROP) || (DROP..=1.5 * DROP).contains(&drop) {
                break;
            }
            distance = (mu - peak.mu).abs() * (1.2 * DROP / drop.max(1e-3)).sqrt().clamp(0.2, 4.0);
            if distance == 0.0 {
                break;
            }
        }
        mu
    }

    /// Without intervals the density is normal: precision n/sigma^2, plus that of a normal prior.
    fn conditional_of_complete(&self, tau: f64) -> (Conditional, f64, f64) {
        let (sigma, (low, high)) = (tau.exp(), self.bounds());
        let (mean, sd) = match self.location {
            Location::Flat { .. } => self.sample.location_given(sigma),
            Location::Normal { mean, sd } => {
                let (own, own_sd) = self.sample.location_given(sigma);
                let share = sd * sd / (sd * sd + own_sd * own_sd);
                (mean + share * (own - mean), own_sd * share.sqrt())
            }
        };
        let top = self.log_density(Point { mu: mean, tau });
        let z = |x: f64| (x - mean) / sd;
        let log_inside = if low == f64::NEG_INFINITY && high == f64::INFINITY {
            0.0
        } else {
            interval_log_probability(z(low), z(high), (high - low) / sd)
        };
        let total = top + (sd * SQRT_2PI).ln() + log_inside;
        (Conditional::Normal { mean, sd, low, high, log_inside }, total, mean.clamp(low, high))
    }
}

impl Conditional {
    /// Probability below `mu` and density at it.
    pub(super) fn at(&self, mu: f64) -> (f64, f64) {
        match self {
            Conditional::Series(series) => series.at(mu),
            &Conditional::Normal { mean, sd, low, high, log_inside } => {
                let z = (mu - mean) / sd;
                if mu <= low {
                    return (0.0, 0.0);
                }
                if mu >= high {
                    return (1.0, 0.0);
                }
                if log_inside == 0.0 {
                    return (normal::lower(z), normal::density(z) / sd);
                }
                let below = if low == f64::NEG_INFINITY {
                    interval_log_probability(low, z, f64::INFINITY)
                } else {
                    interval_log_probability((low - mean) / sd, z, (mu - low) / sd)
                };
                let log_density = -0.5 * z * z - (sd * SQRT_2PI).ln() - log_inside;
                ((below - log_inside).exp().min(1.0), log_density.exp())
            }
        }
    }
}
