//! Without censoring the invariant limits are the exact ones, reached by another road; and the quadrature has converged.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use fullshift_stats::censored::{InvariantLimits, Limit, Observation, Quantity, Sample};
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, percentile,
};
use fullshift_stats::posterior::{LocationPrior, Posterior, Prior, Resolution, SpreadPrior};
use fullshift_stats::special::normal;

/// `n` lognormal values at the plotting positions of the normal distribution, of a given log standard deviation.
fn values(n: usize, sigma: f64) -> Vec<f64> {
    (1..=n)
        .map(|i| (1.3 + sigma * normal::quantile((i as f64 - 0.4) / (n as f64 + 0.2)).unwrap()).exp())
        .collect()
}

fn at(limit: Limit) -> f64 {
    limit.value().unwrap()
}

/// Relative agreement of the logarithms, so that limits of many powers of ten are judged fairly.
fn close(got: f64, want: f64, what: &str) {
    let error = (got.ln() - want.ln()).abs() / (1.0 + want.ln().abs());
    assert!(error < 1e-9, "{what}: {got} is not {want} ({error:.1e})");
}

#[test]
fn without_censoring_every_invariant_limit_is_the_exact_one() {
    for n in [3, 4, 6, 10, 30, 100] {
        for sigma in [0.2, 0.9, 1.6] {
            let values = values(n, sigma);
            let (sample, exact) =
                (Sample::of_values(&values).unwrap(), LogSample::from_values(&values).unwrap());
            let limits = InvariantLimits::new(&sample).unwrap();
            for confidence in [0.7, 0.95] {
                let what = format!("n {n}, sigma {sigma}, confidence {confidence}");
                let gm = limits.limits(Quantity::GeometricMean, confidence).unwrap();
                close(at(gm.estimate), geometric_mean::estimate(&exact).unwrap(), &what);
                close(at(gm.lower), geometric_mean::lower(&exact, confidence).unwrap(), &what);
                close(at(gm.upper), geometric_mean::upper(&exact, confidence).unwrap(), &what);
                let gsd = limits.limits(Quantity::GeometricSd, confidence).unwrap();
                close(at(gsd.estimate), geometric_sd::estimate(&exact).unwrap(), &what);
                close(at(gsd.lower), geometric_sd::lower(&exact, confidence).unwrap(), &what);
                close(at(gsd.upper), geometric_sd::upper(&exact, confidence).unwrap(), &what);
                let p95 = limits.limits(Quantity::Percentile(0.95), confidence).unwrap();
                close(at(p95.estimate), percentile::estimate(&exact, 0.95).unwrap(), &what);
                close(at(p95.lower), percentile::lower(&exact, 0.95, confidence).unwrap(), &what);
                close(at(p95.upper), percentile::upper(&exact, 0.95, confidence).unwrap(), &what);
                let mean = limits.limits(Quantity::Mean, confidence).unwrap();
                close(at(mean.estimate), arithmetic_mean::estimate(&exact).unwrap(), &what);
                close(at(mean.lower), arithmetic_mean::lower(&exact, confidence).unwrap(), &what);
                close(at(mean.upper), arithmetic_mean::upper(&exact, confidence).unwrap(), &what);
                let over = limits.limits(Quantity::Exceedance(8.0), confidence).unwrap();
                let want =
                    [exceedance::lower(&exact, 8.0, confidence), exceedance::upper(&exact, 8.0, confidence)];
                for (got, want) in [over.lower, over.upper].into_iter().zip(want) {
                    let want = want.unwrap();
                    assert!(
                        (at(got) - want).abs() < 5e-9 * (want + 1e-3),
                        "{what}: {} is not {want}",
                        at(got)
                    );
                }
            }
        }
    }
}

#[test]
fn twice_as_many_nodes_change_no_probability_by_a_millionth() {
    let between = |l, h| Observation::between(l, h).unwrap();
    let inf = f64::INFINITY;
    let samples = [
        vec![between(0.0, 1.0), between(1.0, 2.0), between(2.0, 5.0), between(2.0, 5.0), between(5.0, 10.0)],
        vec![between(3.0, 3.0), between(0.0, 2.0), between(7.0, 7.0), between(0.0, 1.0), between(2.2, 2.2)],
        vec![between(2.0, 5.0)],
        vec![between(0.0, 4.0), between(0.0, 4.0), between(0.0, 1.0)],
        vec![between(20.0, inf), between(10.0, 20.0), between(5.0, 10.0)],
        (0..30)
            .map(
                |i| {
                    if i % 2 == 0 {
                        between(0.0, 3.0)
                    } else {
                        between(3.0 + f64::from(i), 3.0 + f64::from(i))
                    }
                },
            )
            .collect(),
    ];
    let wide = Prior::around(50.0).unwrap();
    let belief = Prior::new(
        LocationPrior::Lognormal { median: 5.0, gsd: 4.0 },
        SpreadPrior::Lognormal { median: 2.0, factor: 1.5 },
    )
    .unwrap();
    let quantities = [
        (Quantity::Percentile(0.95), 50.0),
        (Quantity::Percentile(0.95), 5.0),
        (Quantity::Mean, 50.0),
        (Quantity::Mean, 5.0),
        (Quantity::GeometricMean, 3.0),
        (Quantity::GeometricSd, 2.5),
        (Quantity::Exceedance(50.0), 0.05),
    ];
    for observations in &samples {
        let sample = Sample::new(observations).unwrap();
        for prior in [wide, belief] {
            let [coarse, fine] = [Resolution::Standard, Resolution::Doubled]
                .map(|resolution| Posterior::with_resolution(&sample, &prior, resolution).unwrap());
            for (quantity, value) in quantities {
                let [a, b] = [&coarse, &fine].map(|p| p.probability_below(quantity, value).unwrap());
                assert!((a - b).abs() < 1e-6, "{observations:?} {prior:?} {quantity:?}: {a} {b}");
            }
        }
    }
}

#[test]
fn the_quantile_at_a_probability_has_that_probability_below_it() {
    let sample = Sample::of_values(&values(5, 0.8)).unwrap();
    let posterior = Posterior::new(&sample, &Prior::around(20.0).unwrap()).unwrap();
    for quantity in
        [Quantity::Percentile(0.95), Quantity::Mean, Quantity::GeometricSd, Quantity::Exceedance(20.0)]
    {
        for p in [0.001, 0.05, 0.5, 0.7, 0.95, 0.999] {
            let value = at(posterior.quantile(quantity, p).unwrap());
            let back = posterior.probability_below(quantity, value).unwrap();
            assert!((back - p).abs() < 1e-8, "{quantity:?} {p} {back}");
        }
    }
}
