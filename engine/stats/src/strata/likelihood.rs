//! Location and spread of strata with values between bounds, by their likelihood.

use super::part::{CommonSpread, Located, OwnSpread};
use super::stratum::refused;
use crate::censored::{Derivatives, Point, Sample, derivatives, require_maximum};
use crate::numeric::root::brent;
use crate::posterior::restricted_tau;
use crate::{Error, Result};

/// The range in which ln sigma is looked for: geometric standard deviations from 1.001 to e^20.
const NARROWEST: f64 = -7.0;
const WIDEST: f64 = 3.0;
/// The likelihood in mu is followed until it has fallen by `exp(-DROP)`: what lies further out changes no slope by 1e-10.
const DROP: f64 = 25.0;
/// Step of the quadrature in mu, in standard deviations at the peak; where the likelihood is flat there, in those of a reading, which
/// are the scale of its flanks.
const STEP: f64 = 0.5;
const STEP_ON_FLANKS: f64 = 0.7;
/// Most steps on one side of the peak.
const STEPS: usize = 20_000;
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
        self.0.iter().try_fold(0.0, |sum, sample| Ok(sum + marginal_slope(sample, tau)?))
    }

    /// The most likely location of a stratum at this spread, and the number of exact values that would tell as much of it.
    pub fn located(&self, sample: &Sample, tau: f64) -> Result<Located> {
        let (mu, d) = peak(sample, tau)?;
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

/// The derivative in ln sigma of the logarithm of the likelihood integrated over mu: the expectation of the derivative. By the
/// trapezoidal rule, of which the error falls faster than any power of the step for what dies away on both sides.
fn marginal_slope(sample: &Sample, tau: f64) -> Result<f64> {
    if sample.is_complete() {
        return Ok(sample.exact.squares * (-2.0 * tau).exp() - (sample.exact_count() - 1.0));
    }
    let (mu, top) = peak(sample, tau)?;
    let step = tau.exp() * (STEP / (-top.mu_mu).max(0.0).sqrt()).min(STEP_ON_FLANKS);
    let (mut total, mut slope) = (1.0, top.tau);
    for side in [-step, step] {
        for i in 1..=STEPS {
            let d = derivatives(sample, Point { mu: mu + side * i as f64, tau });
            let density = (d.value - top.value).exp();
            total += density;
            slope += density * d.tau;
            if d.value - top.value < -DROP {
                break;
            }
        }
    }
    if slope.is_finite() { Ok(slope / total) } else { Err(Error::NoConvergence { what: SPREAD }) }
}

/// The maximum in mu, in which the likelihood is log-concave: Newton's method between points where the slope is known.
fn peak(sample: &Sample, tau: f64) -> Result<(f64, Derivatives)> {
    let sigma = tau.exp();
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut mu = sample.rough().0;
    for _ in 0..300 {
        let d = derivatives(sample, Point { mu, tau });
        let newton = if d.mu_mu < -1e-12 { -d.mu / d.mu_mu } else { d.mu.signum() };
        if newton.abs() < 1e-9 || d.mu == 0.0 || high - low <= 1e-14 * (low.abs() + high.abs()) {
            return Ok((mu, d));
        }
        if d.mu > 0.0 {
            low = mu
        } else {
            high = mu
        }
        let next = mu + newton.clamp(-30.0, 30.0) * sigma;
        mu = if next > low && next < high {
            next
        } else if low.is_finite() && high.is_finite() {
            0.5 * (low + high)
        } else {
            mu + newton.signum() * sigma
        };
    }
    Err(Error::NoConvergence { what: "location of a stratum" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::censored::Observation;

    fn slope(readings: &[(f64, f64)], tau: f64) -> f64 {
        let observed: Vec<Observation> =
            readings.iter().map(|&(low, high)| Observation::between(low, high).unwrap()).collect();
        marginal_slope(&Sample::new(&observed).unwrap(), tau).unwrap()
    }

    /// The chance of one interval, integrated over mu, is its length on the logarithmic scale, whatever the spread.
    #[test]
    fn one_interval_tells_nothing_of_the_spread() {
        for (low, high) in [(1.0, 1000.0), (5.0, 10.0), (2.0, 2.1)] {
            for tau in [-5.0, -3.0, -1.0, 0.0, 1.0, 2.5] {
                let slope = slope(&[(low, high)], tau);
                assert!(slope.abs() < 1e-8, "{low} to {high} at {tau}: {slope}");
            }
        }
    }

    /// mpmath, 30 digits: `diff(lambda t: log(quad(lambda m: L(m, exp(t)), pieces of a quarter from -10 to 20)), tau)` with `L` the product
    /// of `ncdf` differences and of `npdf`.
    #[test]
    fn slopes_are_those_of_adaptive_quadrature() {
        let sets: [(&[(f64, f64)], [f64; 2]); 4] = [
            (&[(2.0, 5.0), (5.0, 10.0)], [0.449992156937, -0.656844794595]),
            (&[(0.0, 5.0), (5.0, 10.0), (10.0, 15.0)], [2.50571865016, -0.24675826721]),
            (&[(1.0, 100.0), (5.0, 100.0)], [-0.0750663683031, -0.338985285569]),
            (&[(0.0, 1.0), (0.0, 3.0), (0.5, 30.0), (4.0, 4.0)], [7.6899167459, 0.787388837336]),
        ];
        for (readings, wanted) in sets {
            for (tau, wanted) in [-1.0, 0.0].into_iter().zip(wanted) {
                let slope = slope(readings, tau);
                assert!((slope - wanted).abs() < 1e-8, "{readings:?} at {tau}: {slope}, not {wanted}");
            }
        }
    }
}
