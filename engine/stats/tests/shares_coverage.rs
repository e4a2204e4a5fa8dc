//! How often the limits of a share hold, by simulation with a fixed seed: exact counts, and never above what is promised in the handbook.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout, reason = "a test may stop")]

use fullshift_stats::complete::{LogSample, arithmetic_mean};
use fullshift_stats::shares::{OfTotals, between};
use fullshift_stats::special::normal;

const STUDIES: usize = 4_000;

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014), one uniform number for each normal one.
struct Draws(u64);

impl Draws {
    fn normal(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        normal::quantile((((z ^ (z >> 31)) >> 11) as f64 + 0.5) / (1u64 << 53) as f64).unwrap()
    }

    fn lognormal(&mut self, gm: f64, gsd: f64) -> f64 {
        gm * gsd.powf(self.normal())
    }
}

/// Misses on the low and on the high side, in per cent.
fn misses(truth: f64, mut limits: impl FnMut() -> (f64, f64)) -> (f64, f64) {
    let (mut low, mut high) = (0, 0);
    for _ in 0..STUDIES {
        let (lower, upper) = limits();
        low += usize::from(truth < lower);
        high += usize::from(truth > upper);
    }
    (100.0 * low as f64 / STUDIES as f64, 100.0 * high as f64 / STUDIES as f64)
}

/// Two tasks of `n` readings each: Land's limits of both means, the share of the first.
fn two_tasks(n: usize, gsd: f64, gm: f64) -> (f64, f64) {
    let mut draws = Draws(7);
    misses(gm / (gm + 1.0), || {
        let mut mean = |gm: f64| {
            let values: Vec<f64> = (0..n).map(|_| draws.lognormal(gm, gsd)).collect();
            let sample = LogSample::from_values(&values).unwrap();
            [
                arithmetic_mean::estimate(&sample).unwrap(),
                arithmetic_mean::lower(&sample, 0.95).unwrap(),
                arithmetic_mean::upper(&sample, 0.95).unwrap_or(1e300),
            ]
        };
        between(mean(gm), mean(1.0)).unwrap()
    })
}

/// `n` shifts, the dose of a task and of the others lognormal.
fn shifts(n: usize, gsd: f64, gm: f64) -> (f64, f64) {
    let mut draws = Draws(11);
    misses(gm / (gm + 1.0), || {
        let doses: Vec<(f64, f64)> =
            (0..n).map(|_| (draws.lognormal(gm, gsd), draws.lognormal(1.0, gsd))).collect();
        let parts: Vec<f64> = doses.iter().map(|(part, _)| *part).collect();
        let totals: Vec<f64> = doses.iter().map(|(part, rest)| part + rest).collect();
        let found = OfTotals::new(&parts, &totals).unwrap();
        (found.lower(0.95).unwrap(), found.upper(0.95).unwrap())
    })
}

#[test]
fn limits_of_the_share_of_one_of_two_tasks_miss_no_more_than_six_per_cent() {
    for (n, gsd, gm) in [(3, 1.5, 1.0), (3, 2.5, 4.0), (4, 2.5, 1.0), (6, 2.0, 4.0), (10, 3.0, 0.5)] {
        let (low, high) = two_tasks(n, gsd, gm);
        println!(
            "two tasks of {n}, GSD {gsd}, share {:.3}: missed {low:.2} % and {high:.2} %",
            gm / (gm + 1.0)
        );
        assert!(low <= 6.0 && high <= 6.0, "{n} readings, GSD {gsd}, GM {gm}: {low} and {high} %");
    }
}

#[test]
fn limits_of_a_share_over_shifts_miss_no_more_than_nine_per_cent() {
    for (n, gsd, gm) in
        [(3, 1.5, 1.0), (3, 2.5, 4.0), (6, 2.0, 1.0), (6, 2.5, 4.0), (12, 2.0, 4.0), (12, 3.0, 1.0)]
    {
        let (low, high) = shifts(n, gsd, gm);
        println!("{n} shifts, GSD {gsd}, share {:.3}: missed {low:.2} % and {high:.2} %", gm / (gm + 1.0));
        assert!(low <= 9.0 && high <= 9.0, "{n} shifts, GSD {gsd}, GM {gm}: {low} and {high} %");
    }
}
