//! Sample and prior together, on the centred logarithmic scale.

use super::prior::{LocationPrior, Prior, SpreadPrior};
use crate::Result;
use crate::censored::{
    Derivatives, Point, Sample, derivatives, log_likelihood_of_exact, log_likelihood_of_groups, outside,
};

/// The posterior density, unnormalised, in (mu, tau = ln sigma).
#[derive(Debug, Clone, Copy)]
pub(super) struct Problem<'a> {
    pub(super) sample: &'a Sample,
    pub(super) location: Location,
    pub(super) spread: Spread,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Location {
    Flat { low: f64, high: f64 },
    Normal { mean: f64, sd: f64 },
}

/// Bounds of tau and the log density `rise tau - (tau - mean)^2/(2 sd^2)`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spread {
    pub(super) low: f64,
    pub(super) high: f64,
    rise: f64,
    normal: Option<(f64, f64)>,
}

impl<'a> Problem<'a> {
    /// Fails with `OutsideDomain` where sample and prior together leave the posterior without a finite total.
    pub(super) fn new(sample: &'a Sample, prior: &Prior) -> Result<Self> {
        let location = match prior.location {
            LocationPrior::Flat { lowest, highest } => {
                Location::Flat { low: sample.log_of(lowest), high: sample.log_of(highest) }
            }
            LocationPrior::Lognormal { median, gsd } => {
                Location::Normal { mean: sample.log_of(median), sd: gsd.ln() }
            }
        };
        let tau = |gsd: f64| gsd.ln().ln();
        let spread = match prior.spread {
            SpreadPrior::Flat { lowest, highest } => {
                Spread { low: tau(lowest), high: tau(highest), rise: 1.0, normal: None }
            }
            SpreadPrior::Invariant { lowest, highest } => {
                Spread { low: tau(lowest), high: tau(highest), rise: 0.0, normal: None }
            }
            SpreadPrior::Lognormal { median, factor } => {
                let normal = Some((tau(median), factor.ln()));
                Spread { low: f64::NEG_INFINITY, high: f64::INFINITY, rise: 0.0, normal }
            }
        };
        let problem = Problem { sample, location, spread };
        problem.require_total()?;
        Ok(problem)
    }

    /// Bounds of mu.
    pub(super) fn bounds(&self) -> (f64, f64) {
        match self.location {
            Location::Flat { low, high } => (low, high),
            Location::Normal { .. } => (f64::NEG_INFINITY, f64::INFINITY),
        }
    }

    /// Log density without the prior of the spread, and its derivatives (mu in units of sigma).
    pub(super) fn derivatives(&self, at: Point) -> Derivatives {
        let mut d = derivatives(self.sample, at);
        if let Location::Normal { mean, sd } = self.location {
            let (u, unit) = ((at.mu - mean) / sd, at.tau.exp() / sd);
            d.value -= 0.5 * u * u;
            d.mu -= u * unit;
            d.mu_mu -= unit * unit;
        }
        d
    }

    /// Log density without the prior of the spread.
    pub(super) fn log_density(&self, at: Point) -> f64 {
        self.log_density_of_exact(at) + log_likelihood_of_groups(self.sample, at.mu, at.tau.exp())
    }

    /// The same without the intervals.
    pub(super) fn log_density_of_exact(&self, at: Point) -> f64 {
        let prior = match self.location {
            Location::Flat { .. } => 0.0,
            Location::Normal { mean, sd } => -0.5 * ((at.mu - mean) / sd).powi(2),
        };
        log_likelihood_of_exact(self.sample, at) + prior
    }

    /// Log prior density of tau.
    pub(super) fn log_spread(&self, tau: f64) -> f64 {
        self.spread.rise * tau
            - self.spread.normal.map_or(0.0, |(mean, sd)| 0.5 * ((tau - mean) / sd).powi(2))
    }

    /// As sigma grows the likelihood falls like sigma to the minus number of values bounded on both sides; an unbounded flat
    /// location gives one power back, a prior flat in sigma another. As sigma falls it rises only where one
    /// concentration lies in every interval.
    fn require_total(&self) -> Result<()> {
        let (low, high) = self.bounds();
        let all = self.sample.observations();
        let flat = matches!(self.location, Location::Flat { .. });
        if flat && low == f64::NEG_INFINITY && all.iter().all(|o| o.low() == 0.0) {
            return Err(outside(
                "lowest geometric mean of the prior",
                0.0,
                "above 0 where no value is known from below",
            ));
        }
        if flat && high == f64::INFINITY && all.iter().all(|o| o.high() == f64::INFINITY) {
            return Err(outside(
                "highest geometric mean of the prior",
                high,
                "finite where no value is known from above",
            ));
        }
        if self.spread.normal.is_some() {
            return Ok(());
        }
        let open = flat && (low == f64::NEG_INFINITY || high == f64::INFINITY);
        let powers = self.sample.bounded() - f64::from(u8::from(open)) - self.spread.rise;
        if self.spread.high == f64::INFINITY && powers <= 0.0 {
            let allowed = "2 or more under a prior without an upper bound of the spread (3 or more where it is flat in ln GSD)";
            return Err(outside("number of values known from both sides", self.sample.bounded(), allowed));
        }
        let exact = self.sample.exact_count();
        let concentrated = self.sample.common_point().is_some() && exact - exact.min(1.0) >= self.spread.rise;
        if self.spread.low == f64::NEG_INFINITY && concentrated {
            let allowed = "above 1 where one concentration lies in every interval";
            return Err(outside("lowest geometric standard deviation of the prior", 1.0, allowed));
        }
        Ok(())
    }
}
