//! How often the limits of complete samples hold what they promise: simulated, fixed seed, exact counts frozen, and a binomial test.
//!
//! Each cell draws 2000 samples of a lognormal distribution with geometric mean 1. A limit misses when the true figure lies beyond it.
//! All these limits are exact, so every count of misses is binomial with 2000 trials of probability 5 %: between 50 and 150 in all but
//! two of ten million cells, and the sum of all cells of a figure likewise.

#![allow(clippy::unwrap_used, reason = "tests stop where they fail")]

use fullshift_stats::Result;
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, order_statistics, percentile,
};
use fullshift_stats::special::normal;

const SAMPLES: u32 = 2000;
const NUMBERS: [usize; 4] = [3, 6, 10, 30];
const GSDS: [f64; 3] = [1.5, 2.5, 4.0];

/// Vigna's SplitMix64 (public domain), and normal numbers by inversion.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        ((z >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    fn sample(&mut self, n: usize, sigma: f64) -> LogSample {
        let ln: Vec<f64> = (0..n).map(|_| sigma * normal::quantile(self.uniform()).unwrap()).collect();
        LogSample::from_ln(&ln).unwrap()
    }
}

struct Limit {
    name: &'static str,
    lower: fn(&LogSample, f64) -> Result<f64>,
    upper: fn(&LogSample, f64) -> Result<f64>,
    truth: fn(f64) -> f64,
}

const Z95: f64 = 1.644_853_626_951_472_2;

/// The point whose exceedance is asked for: the true 90th percentile.
fn point(sigma: f64) -> f64 {
    (1.281_551_565_544_600_4 * sigma).exp()
}

const LIMITS: [Limit; 4] = [
    Limit {
        name: "geometric mean",
        lower: geometric_mean::lower,
        upper: geometric_mean::upper,
        truth: |_| 1.0,
    },
    Limit {
        name: "geometric standard deviation",
        lower: geometric_sd::lower,
        upper: geometric_sd::upper,
        truth: f64::exp,
    },
    Limit {
        name: "95th percentile",
        lower: |s, c| percentile::lower(s, 0.95, c),
        upper: |s, c| percentile::upper(s, 0.95, c),
        truth: |sigma| (Z95 * sigma).exp(),
    },
    Limit {
        name: "arithmetic mean",
        lower: arithmetic_mean::lower,
        // Where the limit exceeds the largest number of the machine it has not missed.
        upper: |s, c| Ok(arithmetic_mean::upper(s, c).unwrap_or(f64::MAX)),
        truth: |sigma| (0.5 * sigma * sigma).exp(),
    },
];

/// Misses of the lower and of the upper limit in one cell.
fn misses(limit: &Limit, n: usize, gsd: f64, seed: u64) -> (u32, u32) {
    let sigma = gsd.ln();
    let truth = (limit.truth)(sigma);
    let mut draws = Draws(seed);
    let (mut low, mut high) = (0, 0);
    for _ in 0..SAMPLES {
        let sample = draws.sample(n, sigma);
        low += u32::from((limit.lower)(&sample, 0.95).unwrap() > truth);
        high += u32::from((limit.upper)(&sample, 0.95).unwrap() < truth);
    }
    (low, high)
}

fn seed(figure: usize, n: usize, gsd: f64) -> u64 {
    20_260_101 + 1_000_003 * figure as u64 + 7919 * n as u64 + (gsd * 10.0) as u64
}

/// Whether so many misses agree with the nominal 5 % at 5.2 standard deviations (two in ten million).
fn assert_nominal(name: &str, misses: u32, trials: u32) {
    let (expected, sd) = (0.05 * f64::from(trials), (0.05 * 0.95 * f64::from(trials)).sqrt());
    assert!((f64::from(misses) - expected).abs() < 5.2 * sd, "{name}: {misses} of {trials}");
}

fn check(figure: usize, frozen: [[(u32, u32); 3]; 4]) {
    let limit = &LIMITS[figure];
    let mut counted = [[(0, 0); 3]; 4];
    let mut all = (0, 0);
    for (i, &n) in NUMBERS.iter().enumerate() {
        for (j, &gsd) in GSDS.iter().enumerate() {
            let (low, high) = misses(limit, n, gsd, seed(figure, n, gsd));
            assert_nominal(&format!("{} lower, n = {n}, GSD {gsd}", limit.name), low, SAMPLES);
            assert_nominal(&format!("{} upper, n = {n}, GSD {gsd}", limit.name), high, SAMPLES);
            counted[i][j] = (low, high);
            all = (all.0 + low, all.1 + high);
        }
    }
    assert_nominal(&format!("{} lower, all cells", limit.name), all.0, 12 * SAMPLES);
    assert_nominal(&format!("{} upper, all cells", limit.name), all.1, 12 * SAMPLES);
    assert_eq!(counted, frozen, "{}: counts by n (rows) and GSD", limit.name);
}

#[test]
fn limits_of_the_geometric_mean_miss_five_in_a_hundred_on_either_side() {
    check(
        0,
        [
            [(105, 84), (95, 93), (106, 100)],
            [(113, 100), (91, 98), (114, 110)],
            [(96, 103), (93, 108), (97, 112)],
            [(96, 100), (107, 89), (96, 108)],
        ],
    );
}

#[test]
fn limits_of_the_geometric_deviation_miss_five_in_a_hundred_on_either_side() {
    check(
        1,
        [
            [(121, 107), (93, 92), (103, 126)],
            [(99, 91), (101, 110), (96, 108)],
            [(82, 106), (91, 112), (92, 110)],
            [(83, 102), (103, 90), (94, 103)],
        ],
    );
}

#[test]
fn limits_of_the_95th_percentile_miss_five_in_a_hundred_on_either_side() {
    check(
        2,
        [
            [(101, 99), (102, 99), (109, 105)],
            [(110, 103), (112, 90), (114, 88)],
            [(90, 96), (104, 98), (98, 96)],
            [(93, 88), (94, 92), (105, 102)],
        ],
    );
}

#[test]
fn lands_limits_of_the_mean_miss_five_in_a_hundred_on_either_side() {
    check(
        3,
        [
            [(107, 102), (102, 100), (96, 87)],
            [(102, 98), (98, 78), (95, 109)],
            [(97, 95), (98, 106), (98, 113)],
            [(86, 88), (96, 103), (118, 100)],
        ],
    );
}

#[test]
fn limits_of_the_exceedance_miss_five_in_a_hundred_on_either_side() {
    let frozen = [
        [(80, 104), (104, 97), (98, 106)],
        [(95, 98), (103, 103), (100, 101)],
        [(86, 96), (85, 100), (106, 95)],
        [(90, 107), (92, 103), (92, 102)],
    ];
    let mut counted = [[(0, 0); 3]; 4];
    for (i, &n) in NUMBERS.iter().enumerate() {
        for (j, &gsd) in GSDS.iter().enumerate() {
            let (sigma, mut draws) = (gsd.ln(), Draws(seed(4, n, gsd)));
            let (mut low, mut high) = (0, 0);
            for _ in 0..SAMPLES {
                let sample = draws.sample(n, sigma);
                low += u32::from(exceedance::lower(&sample, point(sigma), 0.95).unwrap() > 0.1);
                high += u32::from(exceedance::upper(&sample, point(sigma), 0.95).unwrap() < 0.1);
            }
            assert_nominal(&format!("exceedance lower, n = {n}, GSD {gsd}"), low, SAMPLES);
            assert_nominal(&format!("exceedance upper, n = {n}, GSD {gsd}"), high, SAMPLES);
            counted[i][j] = (low, high);
        }
    }
    assert_eq!(counted, frozen, "exceedance: counts by n (rows) and GSD");
}

#[test]
fn the_order_statistic_limit_of_the_median_misses_no_more_than_it_says() {
    // n = 10: the ninth smallest lies above the median with confidence 1 - 11/1024.
    let mut draws = Draws(42);
    let mut missed = 0;
    for _ in 0..20_000 {
        let values: Vec<f64> = (0..10).map(|_| draws.uniform()).collect();
        let limit = order_statistics::percentile_upper(&values, 0.5, 0.95).unwrap().unwrap();
        assert!(limit.rank == 9 && (limit.confidence - (1.0 - 11.0 / 1024.0)).abs() < 1e-14);
        missed += u32::from(limit.value < 0.5);
    }
    let (expected, sd) = (20_000.0 * 11.0 / 1024.0, (20_000.0_f64 * 11.0 / 1024.0).sqrt());
    assert!((f64::from(missed) - expected).abs() < 5.2 * sd, "{missed}");
}
