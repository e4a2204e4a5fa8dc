//! Limits by profile likelihood.

use super::likelihood::{Derivatives, Point, derivatives};
use super::marginal::peak;
use super::maximum::maximum;
use super::quantity::{Curve, Limit, Limits, Quantity, probability_quantile};
use super::sample::Sample;
use super::support::require_maximum;
use crate::{Error, Result};

const STEPS: usize = 100;
const WHAT: &str = "profile-likelihood limit";

/// The likelihood of a sample with its maximum found, from which the limits of any number of quantities are read.
#[derive(Debug, Clone)]
pub struct ProfileLikelihood<'a> {
    sample: &'a Sample,
    peak: Point,
    at_peak: Derivatives,
}

impl<'a> ProfileLikelihood<'a> {
    /// Finds the maximum. Fails with `OutsideDomain` where the sample cannot support a fit.
    pub fn new(sample: &'a Sample) -> Result<Self> {
        require_maximum(sample)?;
        let (peak, at_peak) = maximum(sample)?;
        Ok(ProfileLikelihood { sample, peak, at_peak })
    }

    /// The maximum-likelihood estimate of a quantity and its one-sided limits by profile likelihood.
    ///
    /// The limits are the two values at which twice the drop of the profile log-likelihood from its maximum is
    /// the square of the standard normal quantile of `confidence`, a number between 0 and 1.
    ///
    /// Accuracy: 1e-9 relative against the closed forms without censoring, and against
    /// `fixtures/published/censored-profile.json` (mpmath). The *method* is approximate: with few values the true
    /// confidence is below the stated one; its measured coverage stands in the handbook page on censored samples, and
    /// [`InvariantLimits`](super::InvariantLimits) do better.
    /// Source: Venzon and Moolgavkar, Appl. Statist. 37 (1988) 87-94.
    /// Fails with `OutsideDomain` for a confidence or a quantity out of range. A side on which the data set no bound is
    /// [`Limit::Unbounded`].
    ///
    /// ```
    /// use fullshift_stats::censored::{Observation, ProfileLikelihood, Quantity, Sample};
    /// // The manganese sample of EPA 530-R-09-007, example 15-1; mean by maximum likelihood 23.003987.
    /// let found = [12.1, 16.9, 21.6, 7.7, 53.6, 9.5, 45.9, 5.3, 12.6, 106.3, 34.5, 6.3, 11.9, 10.0, 77.2, 17.9, 22.7, 3.3, 8.4];
    /// let mut all: Vec<_> = found.iter().map(|&x| Observation::exact(x).unwrap()).collect();
    /// all.extend([5.0, 2.0, 5.0, 5.0, 2.0, 2.0].map(|bound| Observation::below(bound).unwrap()));
    /// let sample = Sample::new(&all)?;
    /// let mean = ProfileLikelihood::new(&sample)?.limits(Quantity::Mean, 0.95)?;
    /// assert!((mean.estimate.value().unwrap() - 23.003987).abs() < 5e-7);
    /// # Ok::<(), fullshift_stats::Error>(())
    /// ```
    pub fn limits(&self, quantity: Quantity, confidence: f64) -> Result<Limits> {
        let curve = Curve::new(self.sample, quantity)?;
        let z = probability_quantile(confidence)?;
        Ok(Limits {
            estimate: curve.value(self.sample, curve.psi(self.peak)),
            lower: self.limit(curve, -z)?,
            upper: self.limit(curve, z)?,
        })
    }

    /// The signed root of the drop of the profile log-likelihood at a value of the quantity: below zero where the value is
    /// below its estimate, and roughly standard normal over repeated samples.
    pub fn signed_root(&self, quantity: Quantity, value: f64) -> Result<f64> {
        let curve = Curve::new(self.sample, quantity)?;
        let psi = curve.psi_of(self.sample, value)?;
        let mut start = self.peak;
        Ok(self.root_and_slope(curve, psi, &mut start)?.0)
    }

    /// The psi whose signed root is `target`, as a value of the quantity.
    fn limit(&self, curve: Curve, target: f64) -> Result<Limit> {
        let origin = curve.psi(self.peak);
        if target == 0.0 {
            return Ok(curve.value(self.sample, origin));
        }
        let reach = curve.reach();
        let (mut inner, mut outer) = (origin, if target < 0.0 { reach.0 } else { reach.1 });
        if (outer - origin) * target <= 0.0 {
            return Ok(end(curve, target));
        }
        let mut outer_seen = false;
        let mut start = self.peak;
        let mut psi = between(origin, outer, origin + target * self.standard_error(curve));
        for _ in 0..STEPS {
            let (root, slope) = self.root_and_slope(curve, psi, &mut start)?;
            if (root - target).abs() <= 1e-11 * (1.0 + target.abs()) {
                return Ok(curve.value(self.sample, psi));
            }
            if (root - target) * target < 0.0 {
                inner = psi;
            } else {
                (outer, outer_seen) = (psi, true);
            }
            if (outer - inner).abs() <= 1e-15 * (inner.abs() + outer.abs()) {
                return Ok(if outer_seen { curve.value(self.sample, psi) } else { end(curve, target) });
            }
            let newton = psi - (root - target) / slope;
            let trusted = slope > 0.0 && (newton - inner) * target > 0.0 && (outer - newton) * target > 0.0;
            let far = origin + 4.0 * (psi - origin);
            psi = match (trusted, outer_seen) {
                (true, true) => newton,
                (true, false) if (far - newton) * target > 0.0 => newton,
                (_, false) if (outer - far) * target > 0.0 => far,
                _ => 0.5 * (inner + outer),
            };
        }
        Err(Error::NoConvergence { what: WHAT })
    }

    /// The signed root of the profile at `psi` and its derivative; `start` holds the constrained maximum and is moved to it.
    fn root_and_slope(&self, curve: Curve, psi: f64, start: &mut Point) -> Result<(f64, f64)> {
        let (value, slope) = match curve {
            Curve::Spread => {
                let (mu, d) = peak(self.sample, Point { mu: start.mu, tau: psi })?;
                *start = Point { mu, tau: psi };
                (d.value, d.tau)
            }
            _ => self.along(curve, psi, start)?,
        };
        let side = if psi < curve.psi(self.peak) { -1.0 } else { 1.0 };
        let root = side * (2.0 * (self.at_peak.value - value)).max(0.0).sqrt();
        Ok((root, if root == 0.0 { 0.0 } else { -slope / root }))
    }

    /// The maximum of the likelihood along a curve: its value and its derivative by psi.
    fn along(&self, curve: Curve, psi: f64, start: &mut Point) -> Result<(f64, f64)> {
        let on_curve = |tau: f64| derivatives(self.sample, Point { mu: curve.mu(psi, tau), tau });
        let mut tau = start.tau;
        let mut d = on_curve(tau);
        for _ in 0..STEPS {
            let (first, second, by_psi) = curve.slopes(psi, tau);
            let slope = d.mu * first + d.tau;
            let curvature = d.mu_mu * first * first + 2.0 * d.mu_tau * first + d.tau_tau + d.mu * second;
            let step = if curvature < 0.0 { -slope / curvature } else { slope.signum() }.clamp(-1.0, 1.0);
            if step.abs() < 1e-9 {
                *start = Point { mu: curve.mu(psi, tau), tau };
                return Ok((d.value, d.mu * by_psi));
            }
            (tau, d) = uphill(tau, step, d.value, on_curve).ok_or(Error::NoConvergence { what: WHAT })?;
        }
        Err(Error::NoConvergence { what: WHAT })
    }

    /// Standard error of psi from the observed information.
    fn standard_error(&self, curve: Curve) -> f64 {
        let d = &self.at_peak;
        let (by_mu, by_tau) = curve.gradient(self.peak);
        let determinant = d.mu_mu * d.tau_tau - d.mu_tau * d.mu_tau;
        let form = -d.tau_tau * by_mu * by_mu + 2.0 * d.mu_tau * by_mu * by_tau - d.mu_mu * by_tau * by_tau;
        (form / determinant).sqrt()
    }
}

/// The first of the step, its half, its quarter ... that does not lead down.
fn uphill(from: f64, step: f64, value: f64, f: impl Fn(f64) -> Derivatives) -> Option<(f64, Derivatives)> {
    let slack = 1e-13 * (1.0 + value.abs());
    let mut step = step;
    for _ in 0..60 {
        let d = f(from + step);
        if d.value >= value - slack {
            return Some((from + step, d));
        }
        step *= 0.5;
    }
    None
}

/// What a limit is whose psi lies beyond all reach.
fn end(curve: Curve, target: f64) -> Limit {
    match curve {
        Curve::Exceedance { .. } => Limit::At(if target < 0.0 { 0.0 } else { 1.0 }),
        _ => Limit::Unbounded,
    }
}

/// `wanted` if it lies strictly between, otherwise the middle.
fn between(inner: f64, outer: f64, wanted: f64) -> f64 {
    if (wanted - inner) * (outer - wanted) > 0.0 { wanted } else { 0.5 * (inner + outer) }
}
