//! Likelihood fit of the one-way random-effects model: variances between and within workers, and the group's location.

use super::repeats::{Repeats, Weighted};
use crate::Result;
use crate::numeric::root;
use std::f64::consts::PI;

const WHAT: &str = "ratio of the variances between and within workers";

/// Which likelihood is maximised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Likelihood {
    /// Restricted (REML): free of the group's location; for balanced data the analysis of variance.
    Restricted,
    /// Full: biased downwards between workers; kept because published profiles use it.
    Full,
}

/// The fitted model `y_ij = location + b_i + e_ij`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VarianceComponents {
    /// Generalised least squares estimate of the group's location.
    pub location: f64,
    /// Its standard error, with the variances taken as known.
    pub location_error: f64,
    /// Variance of the workers' own locations; 0 where the likelihood is highest there.
    pub between: f64,
    /// Variance of the values of one worker; above 0.
    pub within: f64,
    /// The maximum of the log-likelihood, constants included.
    pub ln_likelihood: f64,
}

impl VarianceComponents {
    /// Whether the variance between workers is fitted as nil.
    pub fn is_at_boundary(&self) -> bool {
        self.between == 0.0
    }

    /// Share of the variance that lies between workers.
    pub fn share_between(&self) -> f64 {
        self.between / (self.between + self.within)
    }
}

/// The variances between and within workers, and the group's location, by maximum likelihood.
///
/// With `g = s_b^2/s_w^2` and `w_i = n_i/(1 + g n_i)`, the restricted log-likelihood with location and `s_w^2` maximised out is
/// `-1/2 [(N-1)(1 + ln(2 pi Q/(N-1))) + sum ln(1 + g n_i) + ln sum w_i]`, `Q = SSW + sum w_i (ybar_i - m)^2`, `m` the
/// weighted mean. Its derivative by g is searched for every change of sign on a geometric grid, each is refined by Brent's
/// method, and the highest maximum, the boundary g = 0 included, is taken.
///
/// Accuracy: 1e-12 relative against a 40-digit computation from the full covariance matrix
/// (table `workers-restricted`), and all settled digits of lme4 and nlme for ten designs (table `workers-lme4`).
///
/// Source: D. A. Harville, J. Am. Stat. Assoc. 72 (1977) 320-338; S. R. Searle, G. Casella and C. E. McCulloch, Variance
/// Components, 1992, chapter 6.
///
/// Fails with `NoConvergence` only.
///
/// ```
/// use fullshift_stats::workers::{Likelihood, Repeats, variance_components};
/// // Travel times of Pinheiro and Bates 2000, section 1.1, who print 24.80547 and 4.020779.
/// let rails = [[55.0, 53.0, 54.0], [26.0, 37.0, 32.0], [78.0, 91.0, 85.0],
///              [92.0, 100.0, 96.0], [49.0, 51.0, 50.0], [80.0, 85.0, 83.0]];
/// let fit = variance_components(&Repeats::of(&rails)?, Likelihood::Restricted)?;
/// assert!((fit.between.sqrt() - 24.80547).abs() < 5e-6 && (fit.within.sqrt() - 4.020779).abs() < 5e-7);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn variance_components(repeats: &Repeats, likelihood: Likelihood) -> Result<VarianceComponents> {
    let profile = Profile { repeats, likelihood };
    let mut best = 0.0;
    for ratio in profile.peaks()? {
        if profile.deviance(ratio) < profile.deviance(best) {
            best = ratio;
        }
    }
    Ok(profile.fit(best))
}

struct Profile<'a> {
    repeats: &'a Repeats,
    likelihood: Likelihood,
}

impl Profile<'_> {
    /// Divisor of the fitted variance within: the values, less one where the location is removed.
    fn divisor(&self) -> f64 {
        let values = self.repeats.values() as f64;
        match self.likelihood {
            Likelihood::Restricted => values - 1.0,
            Likelihood::Full => values,
        }
    }

    /// Minus twice the log-likelihood at a ratio of variances, everything else maximised out.
    fn deviance(&self, ratio: f64) -> f64 {
        let sums = self.repeats.weighted(1.0, ratio);
        let within = self.within(&sums);
        let restriction = match self.likelihood {
            Likelihood::Restricted => sums.weight.ln(),
            Likelihood::Full => 0.0,
        };
        self.divisor() * (1.0 + (2.0 * PI * within).ln())
            + self.repeats.ln_variances(1.0, ratio)
            + restriction
    }

    fn within(&self, sums: &Weighted) -> f64 {
        (self.repeats.within_sum() + sums.spread) / self.divisor()
    }

    /// Derivative of the deviance by the ratio.
    fn slope(&self, ratio: f64) -> f64 {
        let sums = self.repeats.weighted(1.0, ratio);
        let restriction = match self.likelihood {
            Likelihood::Restricted => sums.weight_squared / sums.weight,
            Likelihood::Full => 0.0,
        };
        sums.weight - restriction - sums.spread_squared / self.within(&sums)
    }

    /// Every ratio above 0 at which the likelihood has a local maximum.
    fn peaks(&self) -> Result<Vec<f64>> {
        let (low, high) = self.range();
        let steps = ((high / low).ln() / 4_f64.ln()).ceil().max(1.0) as usize;
        let at = |step: usize| low * (high / low).powf(step as f64 / steps as f64);
        let mut peaks = Vec::new();
        let (mut left, mut falling) = (0.0, self.slope(0.0) < 0.0);
        for step in 0..=steps {
            let right = at(step);
            let still_falling = self.slope(right) < 0.0;
            if falling && !still_falling {
                peaks.push(self.turning_point(left, right)?);
            }
            (left, falling) = (right, still_falling);
        }
        Ok(peaks)
    }

    fn turning_point(&self, left: f64, right: f64) -> Result<f64> {
        if left == 0.0 {
            return root::brent(WHAT, 0.0, left, right, |ratio| self.slope(ratio));
        }
        root::brent(WHAT, 1e-15, left.ln(), right.ln(), |ln_ratio| self.slope(ln_ratio.exp())).map(f64::exp)
    }

    /// A range beyond which the slope cannot change sign: far below one value's weight, far above the ratio that the
    /// scatter of the worker means alone would give.
    fn range(&self) -> (f64, f64) {
        let (fewest, most) = self.repeats.extreme_repeats();
        let sums = self.repeats.weighted(1.0, 0.0);
        let within = self.repeats.within_sum() / self.repeats.freedom_within();
        (1e-4 / most, 100.0 * (1.0 + sums.spread / fewest / within))
    }

    fn fit(&self, ratio: f64) -> VarianceComponents {
        let sums = self.repeats.weighted(1.0, ratio);
        let within = self.within(&sums);
        VarianceComponents {
            location: self.repeats.origin() + sums.mean,
            location_error: (within / sums.weight).sqrt(),
            between: ratio * within,
            within,
            ln_likelihood: -0.5 * self.deviance(ratio),
        }
    }
}
