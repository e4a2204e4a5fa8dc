//! Times of the figures between and within workers.

use divan::{Bencher, black_box};
use fullshift_stats::workers::{
    Likelihood, OwnFigure, Repeats, analysis_of_variance, between_sd_upper, profile, share_between_upper,
    share_over_upper, variance_components,
};

fn main() {
    divan::main();
}

/// Conception rates of six bulls (Snedecor and Cochran), in units of ten: 35 values, unequal numbers.
fn uneven() -> Repeats {
    let groups: [&[f64]; 6] = [
        &[4.6, 3.1, 3.7, 6.2, 3.0],
        &[7.0, 5.9],
        &[5.2, 4.4, 5.7, 4.0, 6.7, 6.4, 7.0],
        &[4.7, 2.1, 7.0, 4.6, 1.4],
        &[4.2, 6.4, 5.0, 6.9, 7.7, 8.1, 8.7],
        &[3.5, 6.8, 5.9, 3.8, 5.7, 7.6, 5.7, 2.9, 6.0],
    ];
    Repeats::of(&groups).unwrap_or_else(|error| unreachable!("{error}"))
}

#[divan::bench]
fn analysis_of_variance_of_six_workers(bencher: Bencher) {
    let repeats = uneven();
    bencher.bench_local(|| analysis_of_variance(black_box(&repeats)));
}

#[divan::bench]
fn restricted_likelihood_of_six_workers(bencher: Bencher) {
    let repeats = uneven();
    bencher.bench_local(|| variance_components(black_box(&repeats), Likelihood::Restricted));
}

#[divan::bench]
fn exact_limit_of_the_share_between(bencher: Bencher) {
    let repeats = uneven();
    bencher.bench_local(|| share_between_upper(black_box(&repeats), 0.95));
}

#[divan::bench]
fn limit_of_the_spread_between(bencher: Bencher) {
    let repeats = uneven();
    bencher.bench_local(|| between_sd_upper(black_box(&repeats), 0.95));
}

#[divan::bench]
fn limit_of_the_share_of_workers_over(bencher: Bencher) {
    let repeats = uneven();
    bencher.bench_local(|| share_over_upper(black_box(&repeats), 10.0, OwnFigure::Percentile(0.95), 0.95));
}

#[divan::bench]
fn everything_about_six_workers(bencher: Bencher) {
    let repeats = uneven();
    bencher.bench_local(|| profile(black_box(&repeats), Some(10.0), 0.95));
}
