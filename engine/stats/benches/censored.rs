//! Times of censored fits with all limits, and of posteriors. `cargo bench -p fullshift-stats --bench censored`
//!
//! `scipy_peer_censored.py` does the same to the same samples with scipy.

use divan::{Bencher, black_box};
use fullshift_stats::censored::{
    InvariantLimits, Observation, ProfileLikelihood, Quantity, Sample, fit, order_regression, product_limit,
    turnbull,
};
use fullshift_stats::posterior::{Posterior, Prior};

fn main() {
    divan::main();
}

/// Manganese, 25 values, six of them below 2 or 5 (USEPA 530-R-09-007, example 15-1).
const MANGANESE: [(f64, f64); 25] = [
    (0.0, 5.0),
    (12.1, 12.1),
    (16.9, 16.9),
    (21.6, 21.6),
    (0.0, 2.0),
    (0.0, 5.0),
    (7.7, 7.7),
    (53.6, 53.6),
    (9.5, 9.5),
    (45.9, 45.9),
    (0.0, 5.0),
    (5.3, 5.3),
    (12.6, 12.6),
    (106.3, 106.3),
    (34.5, 34.5),
    (6.3, 6.3),
    (11.9, 11.9),
    (10.0, 10.0),
    (0.0, 2.0),
    (77.2, 77.2),
    (17.9, 17.9),
    (22.7, 22.7),
    (3.3, 3.3),
    (8.4, 8.4),
    (0.0, 2.0),
];

/// Twenty readings between the marks 1, 2, 5, 10, 20 and 50 of a scale, three below it and one above.
const MARKS: [(f64, f64); 20] = [
    (0.0, 1.0),
    (0.0, 1.0),
    (0.0, 1.0),
    (1.0, 2.0),
    (1.0, 2.0),
    (2.0, 5.0),
    (2.0, 5.0),
    (2.0, 5.0),
    (5.0, 10.0),
    (5.0, 10.0),
    (5.0, 10.0),
    (5.0, 10.0),
    (10.0, 20.0),
    (10.0, 20.0),
    (20.0, 50.0),
    (20.0, 50.0),
    (50.0, f64::INFINITY),
    (4.0, 4.0),
    (7.0, 7.0),
    (12.0, 12.0),
];

const SAMPLES: [&str; 2] = ["manganese", "marks"];

fn observations(name: &str) -> Vec<Observation> {
    let bounds: &[(f64, f64)] = if name == "manganese" { &MANGANESE } else { &MARKS };
    bounds.iter().filter_map(|&(low, high)| Observation::between(low, high).ok()).collect()
}

fn quantities() -> [Quantity; 5] {
    let (mean, p95) = (Quantity::Mean, Quantity::Percentile(0.95));
    [Quantity::GeometricMean, Quantity::GeometricSd, mean, p95, Quantity::Exceedance(60.0)]
}

#[divan::bench(args = SAMPLES)]
fn maximum_likelihood(bencher: Bencher, name: &str) {
    let all = observations(name);
    bencher.bench(|| fit(&Sample::new(black_box(&all))?));
}

#[divan::bench(args = SAMPLES)]
fn fit_with_all_profile_limits(bencher: Bencher, name: &str) {
    let all = observations(name);
    bencher.bench(|| {
        let sample = Sample::new(black_box(&all))?;
        let profile = ProfileLikelihood::new(&sample)?;
        quantities().into_iter().map(|q| profile.limits(q, 0.95)).collect::<Result<Vec<_>, _>>()
    });
}

#[divan::bench(args = SAMPLES)]
fn fit_with_all_invariant_limits(bencher: Bencher, name: &str) {
    let all = observations(name);
    bencher.bench(|| {
        let sample = Sample::new(black_box(&all))?;
        let limits = InvariantLimits::new(&sample)?;
        quantities().into_iter().map(|q| limits.limits(q, 0.95)).collect::<Result<Vec<_>, _>>()
    });
}

/// The chances that the 95th percentile and the mean lie above the limit, its half and its tenth, and all credible limits.
#[divan::bench(args = SAMPLES)]
fn posterior_profile(bencher: Bencher, name: &str) {
    let all = observations(name);
    bencher.bench(|| {
        let sample = Sample::new(black_box(&all))?;
        let posterior = Posterior::new(&sample, &Prior::around(50.0)?)?;
        let mut chances = 0.0;
        for fraction in [1.0, 0.5, 0.1] {
            for quantity in [Quantity::Percentile(0.95), Quantity::Mean] {
                chances += posterior.probability_above(quantity, 50.0 * fraction)?;
            }
        }
        let limits =
            quantities().into_iter().map(|q| posterior.limits(q, 0.95)).collect::<Result<Vec<_>, _>>();
        limits.map(|limits| (chances, limits))
    });
}

#[divan::bench(args = SAMPLES)]
fn posterior_six_chances(bencher: Bencher, name: &str) {
    let all = observations(name);
    bencher.bench(|| {
        let sample = Sample::new(black_box(&all))?;
        let posterior = Posterior::new(&sample, &Prior::around(50.0)?)?;
        let mut chances = 0.0;
        for fraction in [1.0, 0.5, 0.1] {
            for quantity in [Quantity::Percentile(0.95), Quantity::Mean] {
                chances += posterior.probability_above(quantity, 50.0 * fraction)?;
            }
        }
        Ok::<f64, fullshift_stats::Error>(chances)
    });
}

#[divan::bench]
fn product_limit_and_order_regression(bencher: Bencher) {
    let all = observations("manganese");
    bencher.bench(|| (product_limit(black_box(&all)), order_regression(black_box(&all))));
}

#[divan::bench(args = SAMPLES)]
fn turnbull_distribution(bencher: Bencher, name: &str) {
    let all = observations(name);
    bencher.bench(|| turnbull(black_box(&all)));
}
