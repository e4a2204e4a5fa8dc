//! Time of each figure of a complete sample. `cargo bench -p fullshift-stats --bench complete`

#![allow(clippy::unwrap_used, reason = "a bench that fails should stop")]

use divan::{Bencher, black_box};
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, percentile,
};
use fullshift_stats::fit;
use fullshift_stats::special::{noncentral_t, normal};

const NUMBERS: [usize; 8] = [2, 3, 4, 5, 6, 10, 30, 1000];

fn main() {
    divan::main();
}

fn sample(n: usize) -> LogSample {
    LogSample::from_statistics(n, 0.3, 0.9).unwrap()
}

fn values(n: usize) -> Vec<f64> {
    (0..n)
        .map(|i| {
            normal::quantile((i as f64 + 0.5) / n as f64).unwrap().exp() * (1.0 + 0.1 * (i as f64).sin())
        })
        .collect()
}

#[divan::bench(args = NUMBERS)]
fn percentile_limit_pair(bencher: Bencher, n: usize) {
    let sample = sample(n);
    bencher.bench(|| {
        let sample = black_box(&sample);
        percentile::lower(sample, 0.95, 0.95).unwrap() + percentile::upper(sample, 0.95, 0.95).unwrap()
    });
}

#[divan::bench(args = NUMBERS)]
fn land_limit_pair(bencher: Bencher, n: usize) {
    let sample = sample(n);
    bencher.bench(|| {
        let sample = black_box(&sample);
        arithmetic_mean::lower(sample, 0.95).unwrap() + arithmetic_mean::upper(sample, 0.95).unwrap()
    });
}

#[divan::bench(args = NUMBERS)]
fn exceedance_limit_pair(bencher: Bencher, n: usize) {
    let sample = sample(n);
    bencher.bench(|| {
        let sample = black_box(&sample);
        exceedance::lower(sample, 5.0, 0.95).unwrap() + exceedance::upper(sample, 5.0, 0.95).unwrap()
    });
}

#[divan::bench(args = NUMBERS)]
fn geometric_mean_limit_pair(bencher: Bencher, n: usize) {
    let sample = sample(n);
    bencher.bench(|| {
        let sample = black_box(&sample);
        geometric_mean::lower(sample, 0.95).unwrap() + geometric_mean::upper(sample, 0.95).unwrap()
    });
}

#[divan::bench(args = NUMBERS)]
fn geometric_sd_limit_pair(bencher: Bencher, n: usize) {
    let sample = sample(n);
    bencher.bench(|| {
        let sample = black_box(&sample);
        geometric_sd::lower(sample, 0.95).unwrap() + geometric_sd::upper(sample, 0.95).unwrap()
    });
}

#[divan::bench(args = NUMBERS)]
fn unbiased_mean(bencher: Bencher, n: usize) {
    let sample = sample(n);
    bencher.bench(|| arithmetic_mean::estimate(black_box(&sample)).unwrap());
}

#[divan::bench(args = NUMBERS)]
fn sample_from_values(bencher: Bencher, n: usize) {
    let values = values(n);
    bencher.bench(|| LogSample::from_values(black_box(&values)).unwrap());
}

#[divan::bench(args = NUMBERS)]
fn shapiro_wilk(bencher: Bencher, n: usize) {
    let values = values(n);
    bencher.bench(|| fit::shapiro_wilk(black_box(&values)).unwrap());
}

#[divan::bench(args = [6, 30, 60])]
fn mann_kendall(bencher: Bencher, n: usize) {
    let (values, times) = (values(n), (0..n).map(|i| i as f64).collect::<Vec<_>>());
    bencher.bench(|| fit::mann_kendall(black_box(&times), black_box(&values)).unwrap());
}

#[divan::bench(args = [1.0, 2.0, 9.0, 199.0, 1e5])]
fn noncentral_t_tails(bencher: Bencher, df: f64) {
    bencher.bench(|| noncentral_t::tails(black_box(13.0), df, black_box(11.9)).unwrap());
}
