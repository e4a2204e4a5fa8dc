//! Maximum likelihood and profile likelihood against closed forms and published figures.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
use fullshift_stats::censored::{Limit, Observation, ProfileLikelihood, Quantity, Sample, fit};

const VALUES: [f64; 6] = [0.5, 1.0, 2.0, 4.0, 7.0, 3.0];

fn moments(values: &[f64]) -> (f64, f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().map(|v| v.ln()).sum::<f64>() / n;
    let squares = values.iter().map(|v| (v.ln() - mean).powi(2)).sum::<f64>();
    (n, mean, squares)
}

fn at(limit: Limit) -> f64 {
    limit.value().unwrap()
}

fn close(got: f64, want: f64, relative: f64) {
    assert!((got / want - 1.0).abs() < relative, "{got} is not {want}");
}

#[test]
fn without_censoring_the_fit_is_the_mean_and_the_root_of_squares_over_n() {
    let (n, mean, squares) = moments(&VALUES);
    let fit = fit(&Sample::of_values(&VALUES).unwrap()).unwrap();
    close(fit.mu, mean, 1e-12);
    close(fit.sigma, (squares / n).sqrt(), 1e-12);
    close(fit.se_mu, (squares / n / n).sqrt(), 1e-12);
    close(fit.se_ln_sigma, (0.5 / n).sqrt(), 1e-12);
}

#[test]
fn narrow_intervals_about_the_values_give_the_fit_of_the_values() {
    let narrow: Vec<Observation> =
        VALUES.iter().map(|v| Observation::between(v * (1.0 - 1e-7), v * (1.0 + 1e-7)).unwrap()).collect();
    let (a, b) =
        (fit(&Sample::new(&narrow).unwrap()).unwrap(), fit(&Sample::of_values(&VALUES).unwrap()).unwrap());
    close(a.mu, b.mu, 1e-9);
    close(a.sigma, b.sigma, 1e-9);
}

#[test]
fn without_censoring_the_profile_limits_are_the_closed_forms() {
    let (n, mean, squares) = moments(&VALUES);
    let sample = Sample::of_values(&VALUES).unwrap();
    let profile = ProfileLikelihood::new(&sample).unwrap();
    let z: f64 = 1.644_853_626_951_472_7;
    // The location: n/2 ln(1 + d^2 n/squares) = z^2/2.
    let d = (squares / n * ((z * z / n).exp() - 1.0)).sqrt();
    let gm = profile.limits(Quantity::GeometricMean, 0.95).unwrap();
    close(at(gm.lower).ln(), mean - d, 1e-10);
    close(at(gm.upper).ln(), mean + d, 1e-10);
    // The spread: with u = sigma^2 n/squares, n/2 (ln u + 1/u - 1) = z^2/2.
    for limit in [
        profile.limits(Quantity::GeometricSd, 0.95).unwrap().lower,
        profile.limits(Quantity::GeometricSd, 0.95).unwrap().upper,
    ] {
        let u = at(limit).ln().powi(2) * n / squares;
        close(n * (u.ln() + 1.0 / u - 1.0), z * z, 1e-9);
    }
    // Percentile: along mu = psi - zp sigma the best 1/sigma is the positive root of a quadratic.
    let p = profile.limits(Quantity::Percentile(0.95), 0.95).unwrap();
    for limit in [p.lower, p.upper] {
        let delta = mean - at(limit).ln();
        let (a, b) = (squares + n * delta * delta, n * delta * z);
        let lambda = (-b + (b * b + 4.0 * a * n).sqrt()) / (2.0 * a);
        let value = n * lambda.ln() - 0.5 * (squares * lambda * lambda + n * (delta * lambda + z).powi(2));
        let peak = -0.5 * n * (squares / n).ln() - 0.5 * n;
        close(2.0 * (peak - value), z * z, 1e-9);
    }
    // Mean: along mu = psi - v/2 the best v solves v^2/4 + v - squares/n - (mean - psi)^2 = 0.
    let m = profile.limits(Quantity::Mean, 0.95).unwrap();
    for limit in [m.lower, m.upper] {
        let delta = mean - at(limit).ln();
        let v = 2.0 * ((1.0 + squares / n + delta * delta).sqrt() - 1.0);
        let value = -0.5 * n * v.ln() - 0.5 * (squares + n * (delta + 0.5 * v).powi(2)) / v;
        let peak = -0.5 * n * (squares / n).ln() - 0.5 * n;
        close(2.0 * (peak - value), z * z, 1e-9);
    }
}
