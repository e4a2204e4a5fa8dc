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
/// The longest half of a piece in standard deviations of the data, and the most pieces of one distribution.
const LONGEST: f64 = 10.0;
const MOST_PIECES: f64 = 100.0;
const STEPS: usize = 200;

/// The distribution of mu given tau.
#[derive(Debug, Clone)]
pub(super) enum Conditional {
    /// Normal, cut to bounds: complete samples. The log probability between the bounds comes along.
    Normal { mean: f64, sd: f64, low: f64, high: f64, log_inside: f64 },
    /// Any other, in pieces from left to right.
    Series(Vec<Series>),
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
            if next <= low || next >= high {
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
        let pieces = (0.5 * (high - low) / tau.exp() / LONGEST).ceil().clamp(1.0, MOST_PIECES);
        let length = (high - low) / pieces;
        let mut all = Vec::with_capacity(pieces as usize);
        for i in 0..pieces as usize {
            let start = low + i as f64 * length;
            let mut values = self.log_densities(rule, tau, start, start + length);
            values.iter_mut().for_each(|v| *v = (*v - peak.log_density).exp());
            all.push(Series::new(rule, start, start + length, &values));
        }
        let mass: f64 = all.iter().map(Series::mass).sum();
        all.iter_mut().for_each(|series| series.divide(mass));
        Ok((Conditional::Series(all), peak.log_density + mass.ln(), peak.mu))
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
        let bound = if side < 0.0 { low } else { high };
        let clip = |mu: f64| mu.clamp(low, high);
        let (mut inner, mut outer) = (peak.mu, None);
        let mut mu = clip(peak.mu + side * peak.width * (2.0 * DROP).sqrt());
        for _ in 0..60 {
            let drop = peak.log_density - self.log_density(Point { mu, tau });
            if (DROP..=1.5 * DROP).contains(&drop) || (mu == bound && drop <= DROP) {
                break;
            }
            if drop > DROP {
                outer = Some(mu)
            } else {
                inner = mu
            }
            let scaled = peak.mu + (mu - peak.mu) * (1.2 * DROP / drop.max(1e-3)).sqrt().clamp(0.2, 4.0);
            let between = |outer: f64| (scaled - inner) * (outer - scaled) > 0.0 && inner == peak.mu;
            mu = match outer {
                Some(outer) if between(outer) => scaled,
                Some(outer) => 0.5 * (inner + outer),
                None => clip(scaled),
            };
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
            Conditional::Series(pieces) => pieces.iter().fold((0.0, 0.0), |(p, d), series| {
                let (below, density) = series.at(mu);
                (p + below, d + density)
            }),
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
