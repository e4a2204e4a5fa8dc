//! The log-likelihood of a censored lognormal sample, with its first and second derivatives in (mu, ln sigma).

use super::interval::truncated;
use super::log_product::LogProduct;
use super::sample::Sample;
use crate::effort;

const LN_SQRT_2PI: f64 = 0.918_938_533_204_672_8;

/// Where the likelihood is taken: mean and log standard deviation of the centred logarithms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Point {
    pub(crate) mu: f64,
    pub(crate) tau: f64,
}

/// The log-likelihood at a point and its derivatives, with mu measured in units of sigma.
///
/// `mu`, `tau` are the gradient; `mu_mu`, `mu_tau`, `tau_tau` the Hessian. A derivative in mu carries one factor sigma for
/// each mu, so that none of them over- or underflows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Derivatives {
    pub(crate) value: f64,
    pub(crate) mu: f64,
    pub(crate) tau: f64,
    pub(crate) mu_mu: f64,
    pub(crate) mu_tau: f64,
    pub(crate) tau_tau: f64,
}

/// The log-likelihood and its derivatives.
///
/// With z = (y - mu)/sigma the complete-data score is (z/sigma, z^2 - 1) and its derivative ((-1/sigma^2, -2z/sigma),
/// (-2z/sigma, -2z^2)); an interval contributes their expectations over the normal distribution cut to it, and the Hessian also
/// the variance of the score (T. A. Louis, J. R. Statist. Soc. B 44 (1982) 226-233).
pub(crate) fn derivatives(sample: &Sample, at: Point) -> Derivatives {
    effort::one();
    let sigma = at.tau.exp();
    let (value, k, d, s) = exact_part(sample, at, sigma);
    let mut all =
        Derivatives { value, mu: k * d, tau: s - k, mu_mu: -k, mu_tau: -2.0 * k * d, tau_tau: -2.0 * s };
    for g in &sample.groups {
        let t = truncated((g.low - at.mu) / sigma, (g.high - at.mu) / sigma, (g.high - g.low) / sigma);
        all.value += g.count * t.log_probability;
        all.mu += g.count * t.mean;
        all.tau += g.count * (t.square - 1.0);
        all.mu_mu += g.count * (t.variance - 1.0);
        all.mu_tau += g.count * (t.covariance - 2.0 * t.mean);
        all.tau_tau += g.count * (t.variance_of_square - 2.0 * t.square);
    }
    all
}

/// The log-likelihood alone.
pub(crate) fn log_likelihood(sample: &Sample, at: Point) -> f64 {
    log_likelihood_of_exact(sample, at) + log_likelihood_of_groups(sample, at.mu, at.tau.exp())
}

/// The part of the exact values in the log-likelihood.
pub(crate) fn log_likelihood_of_exact(sample: &Sample, at: Point) -> f64 {
    exact_part(sample, at, at.tau.exp()).0
}

/// The part of the intervals in the log-likelihood.
pub(crate) fn log_likelihood_of_groups(sample: &Sample, mu: f64, sigma: f64) -> f64 {
    effort::one();
    let scale = 1.0 / sigma;
    let mut product = LogProduct::new();
    for g in &sample.groups {
        product.multiply((g.low - mu) * scale, (g.high - mu) * scale, (g.high - g.low) * scale, g.count);
    }
    product.ln()
}

/// Log-likelihood of the exact values, their number, the sum of z over it and the sum of z^2.
fn exact_part(sample: &Sample, at: Point, sigma: f64) -> (f64, f64, f64, f64) {
    let e = sample.exact;
    if e.count == 0.0 {
        return (0.0, 0.0, 0.0, 0.0);
    }
    let d = (e.mean - at.mu) / sigma;
    let s = e.squares / sigma / sigma + e.count * d * d;
    (-e.count * (at.tau + LN_SQRT_2PI) - 0.5 * s, e.count, d, s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::censored::Observation;

    fn mixed() -> Sample {
        let between = |l, h| Observation::between(l, h).unwrap();
        let all = [
            (0.0, 1.0),
            (0.0, 2.0),
            (2.0, 5.0),
            (5.0, 5.0001),
            (7.0, 7.0),
            (3.0, 3.0),
            (20.0, f64::INFINITY),
        ];
        Sample::new(&all.map(|(l, h)| between(l, h))).unwrap()
    }

    #[test]
    fn the_derivatives_are_those_of_central_differences() {
        let sample = mixed();
        for (mu, tau) in [(0.0, 0.0), (-0.7, 0.5), (0.4, -0.8), (3.0, -1.5)] {
            let sigma = f64::exp(tau);
            let h = 1e-5;
            let at = |m: f64, t: f64| derivatives(&sample, Point { mu: m, tau: t });
            let d = at(mu, tau);
            let (right, left) = (at(mu + h, tau), at(mu - h, tau));
            let (up, down) = (at(mu, tau + h), at(mu, tau - h));
            let slope = |a: f64, b: f64| (a - b) / (2.0 * h);
            let unit = |t: f64| f64::exp(tau - t);
            let pairs = [
                (d.mu, sigma * slope(right.value, left.value)),
                (d.tau, slope(up.value, down.value)),
                (d.mu_mu, sigma * slope(right.mu, left.mu)),
                (d.mu_tau, slope(up.mu * unit(tau + h), down.mu * unit(tau - h))),
                (d.mu_tau, sigma * slope(right.tau, left.tau)),
                (d.tau_tau, slope(up.tau, down.tau)),
            ];
            for (i, (got, want)) in pairs.into_iter().enumerate() {
                assert!((got - want).abs() < 2e-7 * (1.0 + want.abs()), "{mu} {tau} pair {i}: {got} {want}");
            }
        }
    }

    #[test]
    fn the_value_alone_is_the_value_with_its_derivatives() {
        let (sample, at) = (mixed(), Point { mu: 0.3, tau: 0.1 });
        assert!((log_likelihood(&sample, at) - derivatives(&sample, at).value).abs() < 1e-13);
    }
}
