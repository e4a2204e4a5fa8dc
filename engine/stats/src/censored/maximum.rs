//! The maximum of the likelihood.

use super::likelihood::{Derivatives, Point, derivatives, log_likelihood};
use super::sample::Sample;
use super::support::require_maximum;
use crate::{Error, Result};

const STEPS: usize = 200;
const HALVINGS: usize = 60;

/// A lognormal distribution fitted by maximum likelihood.
///
/// `sigma` is the maximum-likelihood figure, which divides by n: without censoring `mu` is the mean of the logarithms and
/// `sigma` the square root of their sum of squares over n, not over n - 1. What divides by n - 1 there, and stays right under
/// censoring, is [`Restricted`](super::Restricted).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// Mean of the natural logarithms.
    pub mu: f64,
    /// Standard deviation of the natural logarithms.
    pub sigma: f64,
    /// The log-likelihood on the logarithmic scale.
    pub log_likelihood: f64,
    /// Standard error of `mu`, from the observed information.
    pub se_mu: f64,
    /// Standard error of ln `sigma`.
    pub se_ln_sigma: f64,
    /// Covariance of `mu` and ln `sigma`.
    pub covariance: f64,
}

/// The lognormal distribution under which a sample with intervals is most probable.
///
/// Maximises `sum ln phi((y - mu)/sigma)/sigma` over exact values plus `sum ln [Phi((b - mu)/sigma) - Phi((a - mu)/sigma)]` over
/// intervals (a, b), y, a, b being natural logarithms, by Newton's method in (mu, ln sigma) with analytic
/// derivatives; where the Hessian is not negative definite the step is taken in (mu/sigma, 1/sigma), in which the
/// function is concave, so that every step leads upward.
///
/// Accuracy: `mu` and `sigma` to 1e-11 relative against the eleven samples of `fixtures/published/censored-maximum.json`.
/// Source: Cohen, Technometrics 3 (1961) 535-541; USEPA 530-R-09-007 (2009), section 15.3.
/// Fails with `OutsideDomain` and the reason where the sample cannot support a fit
/// ([`require_maximum`]).
///
/// ```
/// use fullshift_stats::censored::{Observation, Sample, fit};
/// // Manganese, 25 values, six below 2 or 5 (EPA 530-R-09-007, example 15-1): mu = 2.215905, sigma = 1.356291.
/// let found = [12.1, 16.9, 21.6, 7.7, 53.6, 9.5, 45.9, 5.3, 12.6, 106.3, 34.5, 6.3, 11.9, 10.0, 77.2, 17.9, 22.7, 3.3, 8.4];
/// let mut all: Vec<_> = found.iter().map(|&x| Observation::exact(x).unwrap()).collect();
/// all.extend([5.0, 2.0, 5.0, 5.0, 2.0, 2.0].map(|bound| Observation::below(bound).unwrap()));
/// let fit = fit(&Sample::new(&all)?)?;
/// assert!((fit.mu - 2.215905).abs() < 5e-7 && (fit.sigma - 1.356291).abs() < 5e-7);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn fit(sample: &Sample) -> Result<Fit> {
    require_maximum(sample)?;
    let (at, d) = maximum(sample)?;
    let sigma = at.tau.exp();
    let determinant = d.mu_mu * d.tau_tau - d.mu_tau * d.mu_tau;
    Ok(Fit {
        mu: sample.absolute(at.mu),
        sigma,
        log_likelihood: d.value,
        se_mu: sigma * (-d.tau_tau / determinant).sqrt(),
        se_ln_sigma: (-d.mu_mu / determinant).sqrt(),
        covariance: sigma * d.mu_tau / determinant,
    })
}

/// The maximum on the centred scale and the derivatives there.
pub(crate) fn maximum(sample: &Sample) -> Result<(Point, Derivatives)> {
    if sample.is_complete() {
        return Ok(closed_form(sample));
    }
    let (mean, spread) = sample.rough();
    let mut at = Point { mu: mean, tau: spread.ln() };
    let mut d = derivatives(sample, at);
    for _ in 0..STEPS {
        let (next, size) = step(sample, at, &d).ok_or(Error::NoConvergence { what: WHAT })?;
        at = next;
        d = derivatives(sample, at);
        if size < 1e-9 {
            return Ok((at, d));
        }
    }
    Err(Error::NoConvergence { what: WHAT })
}

const WHAT: &str = "maximum likelihood of a censored sample";

fn closed_form(sample: &Sample) -> (Point, Derivatives) {
    let e = sample.exact;
    let at = Point { mu: e.mean, tau: 0.5 * (e.squares / e.count).ln() };
    (at, derivatives(sample, at))
}

/// One safeguarded step upward and its size; a full Newton step below 1e-9 leaves an error near its square.
fn step(sample: &Sample, at: Point, d: &Derivatives) -> Option<(Point, f64)> {
    let (du, dt) = newton(d).unwrap_or_else(|| concave_direction(at, d));
    let longest = (du.abs() / 4.0).max(dt.abs() / 2.0).max(1.0);
    let (du, dt) = (du / longest, dt / longest);
    let size = du.abs().max(dt.abs());
    let sigma = at.tau.exp();
    let slack = 1e-13 * (1.0 + d.value.abs());
    let mut share = 1.0;
    for _ in 0..HALVINGS {
        let next = Point { mu: at.mu + share * du * sigma, tau: at.tau + share * dt };
        if log_likelihood(sample, next) >= d.value - slack {
            return Some((next, size * share));
        }
        share *= 0.5;
    }
    None
}

/// The Newton step in (mu/sigma held in units, ln sigma), where the Hessian is negative definite.
fn newton(d: &Derivatives) -> Option<(f64, f64)> {
    let determinant = d.mu_mu * d.tau_tau - d.mu_tau * d.mu_tau;
    let definite = d.mu_mu < 0.0 && determinant > 1e-9 * d.mu_mu * d.tau_tau;
    definite.then(|| {
        let du = (d.mu_tau * d.tau - d.tau_tau * d.mu) / determinant;
        let dt = (d.mu_tau * d.mu - d.mu_mu * d.tau) / determinant;
        (du, dt)
    })
}

/// The Newton step of the concave form in (mu/sigma, 1/sigma), carried back to (mu, ln sigma); always leads upward.
///
/// With mu moved to zero: d mu = sigma d eta, d tau = -sigma d lambda, and second derivatives of mu
/// (-sigma^2 in eta lambda) and of tau (sigma^2 in lambda lambda).
fn concave_direction(at: Point, d: &Derivatives) -> (f64, f64) {
    let m = at.mu / at.tau.exp();
    let (h11, h12) = (d.mu_mu, -d.mu_mu * m - d.mu_tau - d.mu);
    let h22 = d.mu_mu * m * m + 2.0 * d.mu_tau * m + d.tau_tau + 2.0 * d.mu * m + d.tau;
    let (g1, g2) = (d.mu, -d.mu * m - d.tau);
    let determinant = h11 * h22 - h12 * h12;
    if !(h11 < 0.0 && determinant > 0.0) {
        return (d.mu, d.tau);
    }
    let first = (h12 * g2 - h22 * g1) / determinant;
    let second = (h12 * g1 - h11 * g2) / determinant;
    (first - m * second, -second)
}
