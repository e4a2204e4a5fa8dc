//! Bad and extreme input: refused with the reason, or right.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use fullshift_stats::Error;
use fullshift_stats::workers::{
    Likelihood, OwnFigure, Repeats, analysis_of_variance, between_sd_upper, profile, share_over_upper,
    variance_components,
};

fn refused(groups: &[Vec<f64>]) -> &'static str {
    match Repeats::of(groups) {
        Err(Error::OutsideDomain { what, .. }) => what,
        other => panic!("{other:?}"),
    }
}

#[test]
fn no_workers_and_one_worker_are_refused() {
    assert_eq!(refused(&[]), "number of workers");
    assert_eq!(refused(&[vec![1.0, 2.0, 3.0]]), "number of workers");
}

#[test]
fn no_repeats_at_all_are_refused() {
    assert_eq!(refused(&[vec![1.0], vec![2.0], vec![3.0]]), "number of values");
}

#[test]
fn a_worker_without_values_is_refused() {
    assert_eq!(refused(&[vec![1.0, 2.0], vec![], vec![3.0, 4.0]]), "number of values of one worker");
}

#[test]
fn equal_values_within_every_worker_are_refused() {
    assert_eq!(refused(&[vec![0.1; 3], vec![0.1; 3]]), "spread within workers");
    assert_eq!(refused(&[vec![0.1; 3], vec![0.7; 2]]), "spread within workers");
}

#[test]
fn values_that_are_not_finite_or_too_large_are_refused() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e31] {
        assert_eq!(refused(&[vec![1.0, bad], vec![2.0, 3.0]]), "value");
        assert_eq!(refused(&[vec![bad, 1.0], vec![2.0, 3.0]]), "value");
    }
}

#[test]
fn labels_with_gaps_or_of_another_number_are_refused() {
    assert!(Repeats::of_labelled(&[1.0, 2.0, 3.0], &[0, 0]).is_err());
    assert!(Repeats::of_labelled(&[1.0, 2.0, 3.0, 4.0], &[0, 0, 2, 2]).is_err());
    assert!(Repeats::of_labelled(&[1.0, 2.0], &[0, usize::MAX]).is_err());
    assert!(Repeats::of_labelled(&[], &[]).is_err());
}

#[test]
fn a_confidence_or_limit_that_is_none_is_refused() {
    let repeats = Repeats::of(&[vec![0.0, 1.0], vec![0.5, 2.0]]).unwrap();
    for bad in [0.0, 1.0, -0.5, 1.5, f64::NAN, f64::INFINITY] {
        assert!(profile(&repeats, None, bad).is_err(), "{bad}");
        assert!(share_over_upper(&repeats, 1.0, OwnFigure::Mean, bad).is_err(), "{bad}");
        assert!(share_over_upper(&repeats, 1.0, OwnFigure::Percentile(bad), 0.9).is_err(), "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(profile(&repeats, Some(bad), 0.9).is_err(), "{bad}");
    }
}

/// No figure of the profile is a number that is none.
fn all_numbers(groups: &[Vec<f64>], limit: f64, confidence: f64) {
    let found = profile(&Repeats::of(groups).unwrap(), Some(limit), confidence).unwrap();
    let above = found.above_limit.unwrap();
    let figures = [
        found.gm,
        found.gsd_between,
        found.gsd_within,
        found.gsd_total,
        found.share_between,
        found.ratio_975_025,
        above.share_percentile,
        above.share_mean,
        above.distance,
    ];
    for given in figures.iter().flat_map(|f| [f.lower, f.value, f.upper]) {
        assert!(given.is_err() || given.is_ok_and(f64::is_finite), "{found:?}");
    }
    for (low, high) in figures.iter().filter_map(|f| Some((f.lower.ok()?, f.upper.ok()?))) {
        assert!(low <= high * (1.0 + 1e-9) + 1e-9, "{found:?}");
    }
}

#[test]
fn extreme_but_allowed_values_give_numbers_or_reasons() {
    for confidence in [0.5, 0.7, 0.95, 0.999] {
        all_numbers(&[vec![690.0, -690.0], vec![1.0, 2.0]], 3.0, confidence);
        all_numbers(&[vec![1e30, -1e30], vec![1.0, 2.0]], 3.0, confidence);
        all_numbers(&[vec![0.0, 1e-29], vec![1e30, 1e30]], 3.0, confidence);
        all_numbers(&[vec![0.0, 1e-12], vec![5.0, 5.0 + 1e-12], vec![-3.0]], 3.0, confidence);
        all_numbers(&[vec![0.0, 1.0], vec![1.0, 0.0], vec![0.5, 0.5]], 1e300, confidence);
        all_numbers(&[vec![0.0, 1.0], vec![0.5]], -1e300, confidence);
        all_numbers(&[vec![0.0, 1.0], vec![0.5], vec![9.0], vec![-9.0], vec![2.0]], 0.1, confidence);
    }
}

#[test]
fn equal_worker_means_give_no_spread_between_and_a_limit_all_the_same() {
    let repeats = Repeats::of(&[vec![0.0, 1.0], vec![1.0, 0.0], vec![0.5, 0.25, 0.75]]).unwrap();
    assert_eq!(variance_components(&repeats, Likelihood::Restricted).unwrap().between, 0.0);
    assert_eq!(analysis_of_variance(&repeats).unwrap().p_value, 1.0);
    assert_eq!(between_sd_upper(&repeats, 0.95).unwrap(), 0.0);
}

/// A number in (-1/2, 1/2) that looks random: the output function of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
fn scattered(index: u64) -> f64 {
    let mut z = index.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64 - 0.5
}

#[test]
fn a_million_values_of_a_hundred_thousand_workers_are_fitted() {
    let worker = |i: u64| {
        let own = 2.0 * scattered(i + 1);
        (0..5 + i % 11).map(|j| own + scattered(1_000_000 + 16 * i + j)).collect::<Vec<f64>>()
    };
    let groups: Vec<Vec<f64>> = (0..100_000).map(worker).collect();
    let repeats = Repeats::of(&groups).unwrap();
    assert!(repeats.values() > 999_000);
    let found = profile(&repeats, Some(1.5), 0.95).unwrap();
    // Uniform numbers over a width of 2 have variance 1/3, over a width of 1 variance 1/12.
    assert!((found.fit.between * 3.0 - 1.0).abs() < 0.01, "{:?}", found.fit);
    assert!((found.fit.within * 12.0 - 1.0).abs() < 0.01, "{:?}", found.fit);
    assert!(found.gsd_between.upper.unwrap() / found.gsd_between.lower.unwrap() < 1.01);
}
