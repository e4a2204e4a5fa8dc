//! The spread that is most likely with the location integrated out.

use super::prior::Prior;
use super::problem::Problem;
use super::series::{Resolution, Rule};
use crate::censored::{Point, Sample};
use crate::{Error, Result};

const WHAT: &str = "restricted maximum likelihood";

/// ln sigma at the maximum of the likelihood integrated over mu, and the curvature of the logarithm there.
///
/// Complete samples have it in closed form, sigma^2 = squares/(n - 1); otherwise the root of the expected slope, from `start`.
pub(crate) fn restricted_tau(sample: &Sample, start: f64) -> Result<(f64, f64)> {
    if let Some(sd) = sample.standard_deviation() {
        return Ok((sd.ln(), -2.0 * (sample.exact_count() - 1.0)));
    }
    let problem = Problem::new(sample, &Prior::invariant())?;
    let rule = Resolution::Standard.rules().0;
    let (mut mu, step) = (sample.rough().0, 0.02);
    let mut slope_at = |tau: f64| -> Result<f64> {
        let (slope, peak) = problem.marginal_slope(rule, tau, mu)?;
        mu = peak;
        Ok(slope)
    };
    let (mut before, mut tau) = (start - step, start);
    let (mut slope_before, mut slope) = (slope_at(before)?, slope_at(tau)?);
    for _ in 0..60 {
        let curvature = (slope - slope_before) / (tau - before);
        let next =
            if curvature < 0.0 { (-slope / curvature).clamp(-0.5, 0.5) } else { 0.25 * slope.signum() };
        if next.abs() < 1e-7 {
            return Ok((tau + next, curvature));
        }
        (before, slope_before) = (tau, slope);
        tau += next;
        slope = slope_at(tau)?;
    }
    Err(Error::NoConvergence { what: WHAT })
}

impl Problem<'_> {
    /// The derivative by tau of the logarithm of the density integrated over mu: the expectation of the derivative of the log
    /// density. With it the peak in mu.
    fn marginal_slope(&self, rule: &Rule, tau: f64, start: f64) -> Result<(f64, f64)> {
        let peak = self.peak(tau, start)?;
        let (low, high) = (self.reach(tau, &peak, -1.0), self.reach(tau, &peak, 1.0));
        let (mut total, mut slope) = (0.0, 0.0);
        for (mu, weight) in rule.gauss.on(low, high) {
            let d = self.derivatives(Point { mu, tau });
            let density = weight * (d.value - peak.log_density).exp();
            total += density;
            slope += density * d.tau;
        }
        Ok((slope / total, peak.mu))
    }
}
