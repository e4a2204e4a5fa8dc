//! The likelihood of a censored sample at a given spread: where in mu it is highest, and what is left of it with mu integrated out.

use super::likelihood::{Derivatives, Point, derivatives};
use super::sample::Sample;
use crate::{Error, Result};

const WHAT: &str = "restricted maximum likelihood";

/// The likelihood in mu is followed until it has fallen by `exp(-DROP)`: what lies further out changes no slope by 1e-10.
const DROP: f64 = 25.0;
/// Step of the quadrature in mu, in standard deviations at the peak; where the likelihood is flat there, in those of a reading, which
/// are the scale of its flanks.
const STEP: f64 = 0.5;
const STEP_ON_FLANKS: f64 = 0.7;
/// Most steps on one side of the peak. Where the likelihood is flat for longer nothing there depends on the spread.
const STEPS: usize = 5_000;

/// The maximum in mu, in which the likelihood is log-concave: Newton's method between points where the slope is known.
pub(crate) fn peak(sample: &Sample, start: Point) -> Result<(f64, Derivatives)> {
    let (tau, sigma) = (start.tau, start.tau.exp());
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut mu = start.mu;
    for _ in 0..300 {
        let d = derivatives(sample, Point { mu, tau });
        let newton = if d.mu_mu < -1e-12 { -d.mu / d.mu_mu } else { d.mu.signum() };
        let closed = low.is_finite() && high.is_finite() && high - low <= 1e-14 * (low.abs() + high.abs());
        if newton.abs() < 1e-9 || d.mu == 0.0 || closed {
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
    Err(Error::NoConvergence { what: "location of a censored sample" })
}

/// The derivative in ln sigma of the logarithm of the likelihood integrated over mu, which is the expectation of the derivative, and
/// the peak in mu, looked for from `start`. By the trapezoidal rule, of which the error falls faster than any power of the step
/// for what dies away on both sides.
pub(crate) fn marginal_slope(sample: &Sample, tau: f64, start: f64) -> Result<(f64, f64)> {
    if sample.is_complete() {
        let slope = sample.exact.squares * (-2.0 * tau).exp() - (sample.exact_count() - 1.0);
        return Ok((slope, sample.exact.mean));
    }
    let (mu, top) = peak(sample, Point { mu: start, tau })?;
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
    if slope.is_finite() { Ok((slope / total, mu)) } else { Err(Error::NoConvergence { what: WHAT }) }
}

/// ln sigma at the maximum of the likelihood integrated over mu, and the curvature of the logarithm there.
///
/// Complete samples have it in closed form, sigma^2 = squares/(n - 1); otherwise the root of the slope, from `start`.
pub(crate) fn restricted_tau(sample: &Sample, start: f64) -> Result<(f64, f64)> {
    if let Some(sd) = sample.standard_deviation() {
        return Ok((sd.ln(), -2.0 * (sample.exact_count() - 1.0)));
    }
    let (mut mu, step) = (sample.rough().0, 0.02);
    let mut slope_at = |tau: f64| -> Result<f64> {
        let slope;
        (slope, mu) = marginal_slope(sample, tau, mu)?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::censored::Observation;

    fn sample(readings: &[(f64, f64)]) -> Sample {
        let observed: Vec<Observation> =
            readings.iter().map(|&(low, high)| Observation::between(low, high).unwrap()).collect();
        Sample::new(&observed).unwrap()
    }

    fn slope(readings: &[(f64, f64)], tau: f64) -> f64 {
        let sample = sample(readings);
        marginal_slope(&sample, tau, sample.rough().0).unwrap().0
    }

    /// Readings between bounds, and what is wanted of them at ln sigma of -1 and 0.
    type Set = (&'static [(f64, f64)], [f64; 2]);

    /// scipy, `brentq` on the sum of the readings' slopes from `norm.pdf` and `norm.cdf`.
    #[test]
    fn the_peak_is_where_scipy_finds_it_wherever_the_search_begins() {
        let sets: [Set; 3] = [
            (&[(0.0, 5.0), (5.0, 10.0), (10.0, 15.0)], [1.9371590073407419, 1.7704452777809585]),
            (&[(0.0, 1.0), (0.0, 3.0), (0.5, 30.0), (4.0, 4.0)], [0.584916261701153, 0.30261760937422577]),
            (&[(0.0, 5.0), (6.0, 6.0), (20.0, f64::INFINITY)], [2.1170653912333988, 2.0999429343083924]),
        ];
        for (readings, wanted) in sets {
            let sample = sample(readings);
            for (tau, wanted) in [-1.0, 0.0].into_iter().zip(wanted) {
                for start in [sample.rough().0, -9.0, 0.0, 25.0] {
                    let (mu, _) = peak(&sample, Point { mu: start, tau }).unwrap();
                    let found = sample.absolute(mu);
                    assert!((found - wanted).abs() < 1e-9, "{readings:?} at {tau} from {start}: {found}");
                }
            }
        }
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
        let sets: [Set; 4] = [
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
