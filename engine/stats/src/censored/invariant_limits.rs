//! Limits that are exact without censoring and nearly so with it.

use super::equivalent::Equivalent;
use super::likelihood::Point;
use super::marginal::{peak, restricted_tau};
use super::quantity::{Curve, Limits, Quantity};
use super::sample::Sample;
use super::support::require_maximum;
use crate::Result;
use crate::posterior::{Posterior, Prior, Resolution};

/// The likelihood of a sample integrated under the prior flat in (mu, ln sigma), read as confidence limits.
///
/// That prior is the one which a change of unit or of power leaves alone (the right Haar measure of location and scale).
/// For complete samples, and for samples of which a fixed number of the lowest or highest values is censored, the limits it gives
/// for GM, GSD, percentiles and exceedance hold with exactly the stated confidence; they are the t, chi-squared
/// and noncentral t limits. The mean has no such property: its limits are read from the posterior at the probabilities at which that of
/// the equivalent complete sample gives Land's exact limits, so that without censoring they are Land's. Where values are censored at fixed bounds they hold nearly so: the handbook page
/// on censored samples has the coverage measured.
/// Source: Hora and Buehler, Ann. Math. Statist. 37 (1966) 643-656; Lawless, Statistical Models and Methods for Lifetime Data, 2nd ed.
/// 2003, appendix E.
#[derive(Debug, Clone)]
pub struct InvariantLimits<'a> {
    sample: &'a Sample,
    posterior: Posterior<'a>,
    restricted: Point,
    equivalent: Equivalent,
}

/// The estimate of mu and sigma that belongs to these limits.
///
/// `sigma` maximises the likelihood with mu integrated out (restricted maximum likelihood), `mu` the likelihood at that `sigma`.
/// Without censoring they are the mean of the logarithms and their standard deviation with n - 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Restricted {
    /// Mean of the natural logarithms.
    pub mu: f64,
    /// Standard deviation of the natural logarithms.
    pub sigma: f64,
}

impl<'a> InvariantLimits<'a> {
    /// Integrates the likelihood.
    ///
    /// Fails with `OutsideDomain` where the sample cannot support a fit, or where fewer than two values are known from both sides.
    pub fn new(sample: &'a Sample) -> Result<Self> {
        Self::with_resolution(sample, Resolution::Standard)
    }

    /// The same at a resolution of one's choice.
    pub fn with_resolution(sample: &'a Sample, resolution: Resolution) -> Result<Self> {
        require_maximum(sample)?;
        let posterior = Posterior::with_resolution(sample, &Prior::invariant(), resolution)?;
        let (tau, curvature) = restricted_tau(sample, posterior.likeliest_tau())?;
        let (mu, d) = peak(sample, Point { mu: sample.rough().0, tau })?;
        let restricted = Point { mu, tau };
        Ok(InvariantLimits {
            sample,
            posterior,
            restricted,
            equivalent: Equivalent::new(restricted, &d, curvature)?,
        })
    }

    /// The estimate of a quantity and its one-sided limits at `confidence`, between 0 and 1.
    ///
    /// The estimate is that of restricted maximum likelihood; of the mean it is Finney's at the equivalent complete sample.
    ///
    /// Accuracy: 1e-9 relative against the exact limits of complete samples, and against
    /// `fixtures/published/censored-invariant.json` (mpmath). Fails with `OutsideDomain` for a confidence or quantity out of range.
    ///
    /// ```
    /// use fullshift_stats::censored::{InvariantLimits, Quantity, Sample};
    /// // Upper 95 % limit of the 95th percentile of ten values: mean + 2.911 s (factor of n = 10 to three decimals).
    /// let values = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 11.0f64];
    /// let mean = values.iter().map(|x| x.ln()).sum::<f64>() / 10.0;
    /// let s = (values.iter().map(|x| (x.ln() - mean).powi(2)).sum::<f64>() / 9.0).sqrt();
    /// let sample = Sample::of_values(&values)?;
    /// let limits = InvariantLimits::new(&sample)?.limits(Quantity::Percentile(0.95), 0.95)?;
    /// let factor = (limits.upper.value().unwrap().ln() - mean) / s;
    /// assert!((factor - 2.911).abs() < 5e-4);
    /// # Ok::<(), fullshift_stats::Error>(())
    /// ```
    pub fn limits(&self, quantity: Quantity, confidence: f64) -> Result<Limits> {
        let curve = Curve::new(self.sample, quantity)?;
        let (psi, below, above) = match curve {
            Curve::Mean => {
                let (below, above) = self.equivalent.probabilities(confidence)?;
                (self.equivalent.ln_mean()?, below, above)
            }
            _ => (curve.psi(self.restricted), 1.0 - confidence, confidence),
        };
        let limit = |probability| self.posterior.quantile(quantity, probability);
        Ok(Limits { estimate: curve.value(self.sample, psi), lower: limit(below)?, upper: limit(above)? })
    }

    /// The estimate.
    pub fn restricted(&self) -> Restricted {
        Restricted { mu: self.sample.absolute(self.restricted.mu), sigma: self.restricted.tau.exp() }
    }

    /// The integrated likelihood itself.
    pub fn posterior(&self) -> &Posterior<'a> {
        &self.posterior
    }
}
