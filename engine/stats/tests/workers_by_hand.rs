//! Every figure of a balanced design, from its two mean squares.
//!
//! Dyestuff yields (Davies and Goldsmith 1972), a hundredth of them taken for logarithms: mean 15.275, mean squares 1.12715 (5
//! degrees of freedom) and 0.245125 (24). Values: the closed forms of the analysis of variance, with the points of SciPy 1.17.1.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use fullshift_stats::workers::{Absent, Bounded, Repeats, location_lower, location_upper, profile};

const BATCHES: [[f64; 5]; 6] = [
    [15.45, 14.40, 14.40, 15.20, 15.80],
    [15.40, 15.55, 14.90, 15.60, 14.95],
    [15.95, 15.50, 16.05, 15.10, 15.60],
    [14.45, 14.40, 15.95, 14.65, 15.45],
    [15.95, 16.30, 15.15, 16.35, 16.25],
    [15.20, 14.55, 14.50, 14.80, 14.45],
];

#[track_caller]
fn close(found: f64, expected: f64) {
    assert!((found / expected - 1.0).abs() < 1e-10, "{found} instead of {expected}");
}

#[track_caller]
fn are(found: Bounded, expected: [f64; 3]) {
    for (found, expected) in [found.value, found.lower, found.upper].into_iter().zip(expected) {
        close(found.unwrap(), expected);
    }
}

#[test]
fn a_balanced_design_has_the_closed_forms() {
    let repeats = Repeats::of(&BATCHES).unwrap();
    let found = profile(&repeats, None, 0.95).unwrap();
    close(found.fit.between, 0.176405);
    close(found.fit.within, 0.245125);
    assert!(!found.fit.is_at_boundary());
    close(location_lower(&repeats, &found.fit, 0.95).unwrap(), 14.88441486872826);
    close(location_upper(&repeats, &found.fit, 0.95).unwrap(), 15.66558513127174);
    are(found.gm, [15.275, 14.88441486872826, 15.66558513127174].map(f64::exp));
    are(found.gsd_within, [0.245125_f64.sqrt(), 0.4019380276825285, 0.6517773018911737].map(f64::exp));
    are(found.gsd_total, [0.6492534173957041, 0.5300888360479927, 1.0925207734390372].map(f64::exp));
    are(found.share_between, [0.4184874148933651, 0.13113370559409016, 0.79852565162177]);
    close(found.ratio_975_025.value.unwrap(), 5.188232496603029);
    let between = found.gsd_between;
    for (ratio, gsd) in
        [(found.ratio_975_025.lower, between.lower), (found.ratio_975_025.upper, between.upper)]
    {
        close(ratio.unwrap().ln(), 2.0 * 1.959963984540054 * gsd.unwrap().ln());
    }
}

#[test]
fn what_cannot_be_given_says_why() {
    let apart = [[0.0, 1.0], [1e4, 1e4 + 1.0], [-1e4, 1.0 - 1e4]];
    let found = profile(&Repeats::of(&apart).unwrap(), None, 0.95).unwrap();
    assert_eq!(found.gsd_between.value, Err(Absent::TooLarge));
    assert_eq!(Absent::TooLarge.to_string(), "too large to be written as a number");
}
