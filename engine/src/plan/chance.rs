//! The chance that a number of shifts decides a question, for a lognormal distribution that is known.

use crate::model::{Criterion, Figure};
use fullshift_stats::power::{by_rank, mean, percentile};
use fullshift_stats::special::normal;
use fullshift_stats::{Error, Result};

/// The percentile that is held against a limit.
pub const SHARE: f64 = 0.95;

/// A lognormal distribution of shift figures, and a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlook {
    /// Mean of the logarithms.
    pub mu: f64,
    /// Standard deviation of the logarithms.
    pub sigma: f64,
    /// Logarithm of the limit.
    pub ln_limit: f64,
}

impl Outlook {
    /// The distribution that a profile's GM and GSD tell; the error says why there is none.
    pub fn of_profile(
        figures: &[(&'static str, Figure)],
        limit: f64,
    ) -> std::result::Result<Outlook, String> {
        let value = |name: &str| {
            let figure = figures.iter().find(|(known, _)| *known == name).map(|(_, figure)| figure);
            match figure {
                Some(Figure::Given(estimate)) => Ok(estimate.value),
                Some(other) => Err(other.reason().unwrap_or_default().to_owned()),
                None => Err(format!("the profile has no {name}")),
            }
        };
        let (gm, gsd) = (value("gm")?, value("gsd")?);
        Ok(Outlook { mu: gm.ln(), sigma: gsd.ln(), ln_limit: limit.ln() })
    }

    /// How many standard deviations `share` of the limit lies above the mean of the logarithms.
    pub fn distance(&self, share: f64) -> f64 {
        (self.ln_limit + share.ln() - self.mu) / self.sigma
    }

    /// Whether the figure that a criterion tests lies below the limit in this distribution.
    pub fn is_below(&self, criterion: Criterion) -> bool {
        match criterion {
            Criterion::Mean { .. } => self.mu + 0.5 * self.sigma * self.sigma < self.ln_limit,
            _ => self.mu + Z_95 * self.sigma < self.ln_limit,
        }
    }
}

/// The standard normal quantile of 95 %.
pub const Z_95: f64 = 1.644_853_626_951_472_2;

/// The chance that `n` shifts give `below`; `None` where it cannot be told beforehand or a rule does not take so many.
pub fn below(criterion: Criterion, outlook: &Outlook, n: usize) -> Option<Result<f64>> {
    let distance = outlook.distance(1.0);
    match criterion {
        Criterion::Percentile { upper, .. } => Some(percentile::below(n, distance, SHARE, upper)),
        Criterion::Posterior { confidence } => {
            (n > 1).then(|| percentile::below(n, distance, SHARE, confidence))
        }
        Criterion::Mean { confidence } => {
            Some(mean::below(n, outlook.ln_limit - outlook.mu, outlook.sigma, confidence))
        }
        Criterion::ByRank { confidence } => {
            Some(by_rank::below(n, normal::upper(distance), SHARE, confidence))
        }
        Criterion::AllBelow(shares) => {
            let share = shares.iter().find(|(number, _)| *number == n).map(|(_, share)| *share)?;
            Some(Ok(normal::lower(outlook.distance(share)).powi(n as i32)))
        }
        Criterion::Workers => None,
    }
}

/// The chance that `n` shifts give `above`; see [`below`].
pub fn above(criterion: Criterion, outlook: &Outlook, n: usize) -> Option<Result<f64>> {
    let distance = outlook.distance(1.0);
    match criterion {
        Criterion::Percentile { lower, .. } => Some(percentile::above(n, distance, SHARE, lower)),
        Criterion::Posterior { confidence } => {
            (n > 1).then(|| percentile::above(n, distance, SHARE, confidence))
        }
        Criterion::Mean { confidence } => {
            Some(mean::above(n, outlook.ln_limit - outlook.mu, outlook.sigma, confidence))
        }
        Criterion::AllBelow(shares) => shares
            .iter()
            .any(|(number, _)| *number == n)
            .then(|| Ok(1.0 - normal::lower(distance).powi(n as i32))),
        Criterion::ByRank { .. } | Criterion::Workers => None,
    }
}

/// A chance that must exist.
pub fn known(chance: Option<Result<f64>>) -> Result<f64> {
    chance.unwrap_or(Err(Error::NoConvergence { what: "a chance that cannot be told beforehand" }))
}
