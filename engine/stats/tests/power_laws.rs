//! Laws of power and of draws, and the input they must refuse.

#![allow(clippy::unwrap_used, reason = "tests stop where they fail")]

use fullshift_stats::Error;
use fullshift_stats::drawing::{chance_missed, fewest as fewest_drawn, real_valued};
use fullshift_stats::power::{by_rank, fewest, mean, percentile};

const Z95: f64 = 1.644_853_626_951_472_2;

#[test]
fn more_shifts_raise_the_chance_of_the_side_on_which_the_truth_lies() {
    for (distance, rises) in [(Z95 + 0.5, true), (Z95 - 0.5, false)] {
        let chances: Vec<f64> = (3..60).map(|n| percentile::below(n, distance, 0.95, 0.7).unwrap()).collect();
        assert!(chances.windows(2).all(|w| (w[1] > w[0]) == rises), "{chances:?}");
    }
}

#[test]
fn at_the_limit_itself_no_number_of_shifts_helps() {
    for n in [3, 10, 100, 3000] {
        assert!((percentile::below(n, Z95, 0.95, 0.7).unwrap() - 0.3).abs() < 1e-9);
        assert!((percentile::above(n, Z95, 0.95, 0.95).unwrap() - 0.05).abs() < 1e-9);
        assert!((mean::below(n, 0.5 * 0.49, 0.7, 0.95).unwrap() - 0.05).abs() < 1e-6, "{n}");
        assert!((mean::above(n, 0.5 * 0.49, 0.7, 0.95).unwrap() - 0.05).abs() < 1e-6, "{n}");
    }
}

#[test]
fn a_limit_lies_never_on_both_sides() {
    for n in [3, 6, 30] {
        for tenth in 0..40 {
            let distance = f64::from(tenth) / 10.0;
            let below = percentile::below(n, distance, 0.95, 0.7).unwrap();
            let above = percentile::above(n, distance, 0.95, 0.95).unwrap();
            assert!(below + above <= 1.0 + 1e-12);
        }
    }
}

#[test]
fn the_chance_of_the_exceedance_limit_is_that_of_the_percentile() {
    // Both tests are one: a share above of less than 5 % at 95 % confidence and a 95 % upper limit of the 95th percentile below.
    use fullshift_stats::complete::{LogSample, exceedance, percentile};
    let sample = LogSample::from_statistics(9, 0.0, 0.8).unwrap();
    let limit = percentile::upper(&sample, 0.95, 0.95).unwrap();
    assert!((exceedance::upper(&sample, limit, 0.95).unwrap() - 0.05).abs() < 1e-9);
}

#[test]
fn by_rank_fifty_eight_values_never_settle_and_ninety_two_allow_none_above() {
    assert_eq!(by_rank::below(58, 0.0, 0.95, 0.95).unwrap(), 0.0);
    assert_eq!(by_rank::most_above(92, 0.95, 0.95).unwrap(), Some(0));
    assert_eq!(by_rank::most_above(93, 0.95, 0.95).unwrap(), Some(1));
}

#[test]
fn a_search_finds_the_first_number_that_serves_or_none() {
    for wanted in [3, 4, 17, 64, 99] {
        let chance = |n: usize| Ok(if n >= wanted { 0.9 } else { 0.1 });
        assert_eq!(fewest(3, 100, 0.8, chance).unwrap(), Some(wanted));
    }
    assert_eq!(fewest(3, 100, 0.8, |_| Ok(0.7)).unwrap(), None);
}

#[test]
fn one_fewer_than_the_fewest_is_too_few() {
    for population in 1..60 {
        for marked in 1..=population {
            let n = fewest_drawn(population, marked, 0.9).unwrap();
            assert!(chance_missed(population, marked, n).unwrap() <= 0.1 + 1e-12);
            assert!(chance_missed(population, marked, n - 1).unwrap() > 0.1);
        }
    }
}

#[test]
fn the_real_valued_number_is_the_whole_one_where_the_marked_are_whole() {
    // With 10 and 20 workers a tenth is whole; the real root rounded up is then the exact minimum.
    for population in [10, 20, 30, 40, 50, 100] {
        let root = real_valued(population, 0.1, 0.9).unwrap();
        let exact = fewest_drawn(population, population / 10, 0.9).unwrap();
        assert_eq!((root - 1e-9).ceil() as usize, exact, "{population}: {root}");
    }
}

#[test]
fn what_cannot_be_is_refused() {
    let refused = |outcome: Result<f64, Error>| matches!(outcome, Err(Error::OutsideDomain { .. }));
    assert!(refused(percentile::below(1, 2.0, 0.95, 0.7)));
    assert!(refused(percentile::below(6, f64::NAN, 0.95, 0.7)));
    assert!(refused(percentile::above(6, 2.0, 1.0, 0.7)));
    assert!(refused(mean::below(2, 1.0, 0.5, 0.95)));
    assert!(refused(mean::below(6, 1.0, 0.0, 0.95)));
    assert!(refused(mean::above(6, f64::NAN, 0.5, 0.95)));
    assert!(refused(by_rank::below(0, 0.01, 0.95, 0.95)));
    assert!(refused(by_rank::below(60, 1.1, 0.95, 0.95)));
    assert!(refused(chance_missed(0, 0, 0)));
    assert!(refused(chance_missed(10, 11, 1)));
    assert!(refused(chance_missed(10, 1, 11)));
    assert!(refused(real_valued(10, 0.0, 0.9)));
    assert!(refused(real_valued(10, 0.1, 1.0)));
    assert!(fewest_drawn(10, 0, 0.9).is_err() && fewest(5, 3, 0.8, |_| Ok(0.0)).is_err());
    assert!(fewest(3, 5, 1.0, |_| Ok(0.0)).is_err());
}
