//! A second way to the limits of the mean over strata: generalised pivotal quantities, drawn with a fixed seed
//! [Krishnamoorthy-Mathew-2003].
//!
//! With few readings the two ways differ (the pivotal limits miss up to four times as often as promised on the lower side, which is why they are not the ones
//! given); with many they must agree.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod strata_simulation;

use fullshift_stats::censored::Observation;
use fullshift_stats::complete::LogSample;
use fullshift_stats::special::{chi_squared, normal};
use fullshift_stats::strata::{StrataMean, Stratum};
use strata_simulation::Draws;

const DRAWS: usize = 40_000;

/// One draw of the generalised pivotal quantity of a stratum's mean: `exp(ybar - Z s / (U sqrt n) + s^2 / (2 U^2))`, `U^2` chi-squared over `n - 1`.
fn pivot(sample: &LogSample, draws: &mut Draws) -> f64 {
    let df = sample.df();
    let variance = sample.sd_ln().powi(2) * df / chi_squared::quantile(draws.uniform(), df).unwrap();
    let z = normal::quantile(draws.uniform()).unwrap();
    (sample.mean_ln() - z * (variance / sample.n() as f64).sqrt() + 0.5 * variance).exp()
}

fn pivotal_limits(weights: &[f64], samples: &[LogSample], confidence: f64) -> (f64, f64) {
    let mut draws = Draws(1905);
    let mut all: Vec<f64> = (0..DRAWS)
        .map(|_| weights.iter().zip(samples).map(|(w, sample)| w * pivot(sample, &mut draws)).sum())
        .collect();
    all.sort_by(f64::total_cmp);
    let at = |p: f64| all[(p * DRAWS as f64) as usize];
    (at(1.0 - confidence), at(confidence))
}

fn compare(weights: &[f64], n: usize, gsds: &[f64], within: f64) {
    let mut draws = Draws(77);
    let values: Vec<Vec<f64>> =
        gsds.iter().map(|gsd: &f64| (0..n).map(|_| 20.0 * gsd.powf(draws.normal())).collect()).collect();
    let samples: Vec<LogSample> = values.iter().map(|v| LogSample::from_values(v).unwrap()).collect();
    let strata: Vec<Stratum> = weights
        .iter()
        .zip(&values)
        .map(|(&weight, values)| Stratum::Sampled {
            weight,
            readings: values.iter().map(|&v| Observation::exact(v).unwrap()).collect(),
            relative_sd: None,
        })
        .collect();
    let mean = StrataMean::new(&strata).unwrap();
    let (lower, upper) = pivotal_limits(weights, &samples, 0.95);
    let (l, u) = (mean.lower(0.95).unwrap(), mean.upper(0.95).unwrap());
    assert!((l / lower - 1.0).abs() < within && (u / upper - 1.0).abs() < within, "{l} {lower}, {u} {upper}");
}

#[test]
fn one_stratum_of_many_readings_has_the_pivotal_limits_within_two_percent() {
    compare(&[1.0], 60, &[2.5], 0.02);
}

#[test]
fn two_strata_of_many_readings_have_the_pivotal_limits_within_three_percent() {
    compare(&[0.6, 0.4], 60, &[2.0, 2.0], 0.03);
}

#[test]
fn four_strata_of_many_readings_have_the_pivotal_limits_within_three_percent() {
    compare(&[0.4, 0.3, 0.2, 0.1], 60, &[2.0; 4], 0.03);
}
