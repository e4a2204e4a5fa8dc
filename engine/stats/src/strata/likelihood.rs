//! Location and spread of strata with values between bounds, by their likelihood.

use super::part::{CommonSpread, Located, OwnSpread};
use super::stratum::refused;
use crate::Result;
use crate::censored::{Point, Sample, marginal_slope, peak, require_maximum, restricted_tau};
use crate::numeric::root::brent;

/// The range in which ln sigma is looked for: geometric standard deviations from 1.001 to e^20.
const NARROWEST: f64 = -7.0;
const WIDEST: f64 = 3.0;
const SPREAD: &str = "spread common to the strata";

/// The likelihoods of several strata.
pub(super) struct Likelihoods<'a>(Vec<&'a Sample>);

impl<'a> Likelihoods<'a> {
    /// Refuses a stratum of which the readings are bounded on one side only: its location may be anything.
    pub fn new(samples: Vec<&'a Sample>) -> Result<Self> {
        for sample in &samples {
            let all = sample.observations();
            if all.iter().all(|o| o.low() == 0.0) {
                return Err(refused("number of readings of a stratum known from below", 0.0, "1 or more"));
            }
            if all.iter().all(|o| o.high() == f64::INFINITY) {
                return Err(refused("number of readings of a stratum known from above", 0.0, "1 or more"));
            }
        }
        Ok(Likelihoods(samples))
    }

    /// The spread that is most likely with every location integrated out; its degrees of freedom are those of complete
    /// samples with as sharply curved a likelihood (curvature -2 v in ln sigma), at least 1.
    pub fn common_spread(&self) -> Result<CommonSpread> {
        if self.0.iter().all(|sample| sample.common_point().is_some()) {
            let allowed = "more than nothing: the readings of every stratum may all be one concentration";
            return Err(refused(SPREAD, 0.0, allowed));
        }
        let start = self.0.iter().map(|sample| sample.rough().1).fold(0.0, f64::max).ln();
        let (low, high) = self.around(start.clamp(NARROWEST, WIDEST))?;
        let tau = brent(SPREAD, 1e-9, low, high, |tau| self.slope(tau).unwrap_or(f64::NAN))?;
        let step = 1e-3;
        let curvature = (self.slope(tau + step)? - self.slope(tau - step)?) / (2.0 * step);
        Ok(CommonSpread { df: (-0.5 * curvature).max(1.0), variance: (2.0 * tau).exp() })
    }

    /// Two points between which the likelihood ceases to rise, found by walking from `start`.
    fn around(&self, start: f64) -> Result<(f64, f64)> {
        let rises = self.slope(start)? > 0.0;
        let step = if rises { 0.5 } else { -0.5 };
        let mut at = start;
        while (NARROWEST..=WIDEST).contains(&at) {
            let next = at + step;
            if (self.slope(next)? > 0.0) != rises {
                return Ok((at.min(next), at.max(next)));
            }
            at = next;
        }
        Err(refused(SPREAD, at.exp(), "bounded by the readings, between e^-7 and e^3"))
    }

    fn slope(&self, tau: f64) -> Result<f64> {
        self.0.iter().try_fold(0.0, |sum, sample| Ok(sum + marginal_slope(sample, tau, sample.rough().0)?.0))
    }

    /// The most likely location of a stratum at this spread, and the number of exact values that would tell as much of it.
    pub fn located(&self, sample: &Sample, tau: f64) -> Result<Located> {
        let (mu, d) = peak(sample, Point { mu: sample.rough().0, tau })?;
        Ok(Located { ln: sample.absolute(mu), n: -d.mu_mu })
    }

    /// Location and spread of a stratum by its own readings, where these can tell.
    pub fn own_spread(&self, sample: &Sample) -> Option<OwnSpread> {
        require_maximum(sample).ok()?;
        if sample.bounded() < 2.0 {
            return None;
        }
        let (tau, curvature) = restricted_tau(sample, sample.rough().1.ln()).ok()?;
        let at = self.located(sample, tau).ok()?;
        Some(OwnSpread { at, df: (-0.5 * curvature).max(1.0), variance: (2.0 * tau).exp() })
    }
}
