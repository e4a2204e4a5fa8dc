//! Profile-likelihood limits of the two standard deviations: a second way beside the pivots.

use super::components::{Likelihood, VarianceComponents, variance_components};
use super::repeats::{Repeats, outside};
use crate::Result;
use crate::numeric::root;
use crate::special::normal;
use std::f64::consts::PI;

const WHAT: &str = "profile-likelihood limit of a spread";

/// The lower profile-likelihood limit of the standard deviation between workers.
///
/// The value at which minus twice the log-likelihood, maximised over everything else, lies `z^2` above its minimum, z the normal
/// quantile of `confidence`; 0 where it does not get so high on the way to nil. `confidence` from 0.5 to below 1, one-sided.
///
/// Coverage: approximate and poor for few workers (handbook, *Between and within workers*); kept as a second opinion on
/// [`between_sd_lower`](super::between_sd_lower). Accuracy: 1e-9 relative against the full covariance matrix
/// (table `workers-profile-likelihood`).
///
/// Source: D. M. Bates and others, J. Stat. Softw. 67 (2015) 1, section 5.1.
///
/// ```
/// use fullshift_stats::workers::{Likelihood, Repeats, between_sd_profile_lower, between_sd_profile_upper};
/// let batches = [
///     [1545.0, 1440.0, 1440.0, 1520.0, 1580.0], [1540.0, 1555.0, 1490.0, 1560.0, 1495.0],
///     [1595.0, 1550.0, 1605.0, 1510.0, 1560.0], [1445.0, 1440.0, 1595.0, 1465.0, 1545.0],
///     [1595.0, 1630.0, 1515.0, 1635.0, 1625.0], [1520.0, 1455.0, 1450.0, 1480.0, 1445.0],
/// ];
/// // lme4's manual prints 12.198 and 84.063 for these dyestuff yields, at 95 % two-sided, full likelihood.
/// let repeats = Repeats::of(&batches)?;
/// assert!((between_sd_profile_lower(&repeats, Likelihood::Full, 0.975)? - 12.198).abs() < 2e-3);
/// assert!((between_sd_profile_upper(&repeats, Likelihood::Full, 0.975)? - 84.063).abs() < 2e-3);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn between_sd_profile_lower(repeats: &Repeats, likelihood: Likelihood, confidence: f64) -> Result<f64> {
    let surface = Surface::of(repeats, likelihood, confidence)?;
    let top = surface.best.between.sqrt();
    if top == 0.0 || surface.excess_at_between(0.0)? <= 0.0 {
        return Ok(0.0);
    }
    surface.crossing(0.0, top, Surface::excess_at_between)
}

/// The upper profile-likelihood limit of the standard deviation between workers; see [`between_sd_profile_lower`].
pub fn between_sd_profile_upper(repeats: &Repeats, likelihood: Likelihood, confidence: f64) -> Result<f64> {
    let surface = Surface::of(repeats, likelihood, confidence)?;
    let start = surface.best.between.sqrt();
    let step = if start > 0.0 { start } else { surface.best.within.sqrt() };
    let far = surface.beyond(start, step, Surface::excess_at_between)?;
    surface.crossing(start, far, Surface::excess_at_between)
}

/// The lower profile-likelihood limit of the standard deviation within workers; see [`between_sd_profile_lower`].
pub fn within_sd_profile_lower(repeats: &Repeats, likelihood: Likelihood, confidence: f64) -> Result<f64> {
    let surface = Surface::of(repeats, likelihood, confidence)?;
    let top = surface.best.within.sqrt();
    let mut near = 0.5 * top;
    while surface.excess_at_within(near)? <= 0.0 {
        near *= 0.5;
    }
    surface.crossing(near, top, Surface::excess_at_within)
}

/// The upper profile-likelihood limit of the standard deviation within workers; see [`between_sd_profile_lower`].
pub fn within_sd_profile_upper(repeats: &Repeats, likelihood: Likelihood, confidence: f64) -> Result<f64> {
    let surface = Surface::of(repeats, likelihood, confidence)?;
    let start = surface.best.within.sqrt();
    let far = surface.beyond(start, start, Surface::excess_at_within)?;
    surface.crossing(start, far, Surface::excess_at_within)
}

/// The likelihood over both variances, and the height a limit lies at.
struct Surface<'a> {
    repeats: &'a Repeats,
    likelihood: Likelihood,
    best: VarianceComponents,
    height: f64,
}

impl<'a> Surface<'a> {
    fn of(repeats: &'a Repeats, likelihood: Likelihood, confidence: f64) -> Result<Surface<'a>> {
        if !(0.5..1.0).contains(&confidence) {
            return Err(outside("confidence", confidence, "0.5 or more and below 1"));
        }
        let best = variance_components(repeats, likelihood)?;
        let z = normal::quantile(confidence)?;
        Ok(Surface { repeats, likelihood, best, height: z * z - 2.0 * best.ln_likelihood })
    }

    /// Minus twice the log-likelihood at two variances, less the height of a limit.
    fn excess(&self, within: f64, between: f64) -> f64 {
        let sums = self.repeats.weighted(within, between);
        let values = self.repeats.values() as f64;
        let (count, restriction) = match self.likelihood {
            Likelihood::Restricted => (values - 1.0, sums.weight.ln()),
            Likelihood::Full => (values, 0.0),
        };
        count * (2.0 * PI).ln()
            + self.repeats.freedom_within() * within.ln()
            + self.repeats.ln_variances(within, between)
            + restriction
            + self.repeats.within_sum() / within
            + sums.spread
            - self.height
    }

    fn excess_at_between(&self, sd: f64) -> Result<f64> {
        let between = sd * sd;
        let start = (self.repeats.within_sum() / self.repeats.freedom_within()).ln();
        let slope = |ln_within: f64| self.slope_within(ln_within.exp(), between);
        let (low, high) = root::bracket(WHAT, start, 0.5, (start - 300.0, start + 300.0), slope)?;
        let within = root::brent(WHAT, 1e-12, low, high, slope)?.exp();
        Ok(self.excess(within, between))
    }

    fn excess_at_within(&self, sd: f64) -> Result<f64> {
        let within = sd * sd;
        if self.slope_between(within, 0.0) >= 0.0 {
            return Ok(self.excess(within, 0.0));
        }
        let mut far = self.best.between + within;
        while self.slope_between(within, far) < 0.0 {
            far *= 4.0;
        }
        let between = root::brent(WHAT, 0.0, 0.0, far, |between| self.slope_between(within, between))?;
        Ok(self.excess(within, between))
    }

    /// Derivative by the logarithm of the variance within.
    fn slope_within(&self, within: f64, between: f64) -> f64 {
        let sums = self.repeats.weighted(within, between);
        let per_value = self.repeats.per_value(within, between, sums.mean);
        let restriction = match self.likelihood {
            Likelihood::Restricted => per_value.weight_squared / sums.weight,
            Likelihood::Full => 0.0,
        };
        self.repeats.freedom_within() - self.repeats.within_sum() / within
            + within * (per_value.reciprocal - restriction - per_value.spread_squared)
    }

    /// Derivative by the variance between.
    fn slope_between(&self, within: f64, between: f64) -> f64 {
        let sums = self.repeats.weighted(within, between);
        let restriction = match self.likelihood {
            Likelihood::Restricted => sums.weight_squared / sums.weight,
            Likelihood::Full => 0.0,
        };
        sums.weight - restriction - sums.spread_squared
    }

    /// A value beyond the limit, by doubling the step from `start`.
    fn beyond(&self, start: f64, step: f64, excess: impl Fn(&Self, f64) -> Result<f64>) -> Result<f64> {
        let mut step = step;
        while excess(self, start + step)? <= 0.0 {
            step *= 2.0;
        }
        Ok(start + step)
    }

    fn crossing(&self, low: f64, high: f64, excess: impl Fn(&Self, f64) -> Result<f64>) -> Result<f64> {
        root::brent(WHAT, 1e-12 * high, low, high, |sd| excess(self, sd).unwrap_or(f64::NAN))
    }
}
