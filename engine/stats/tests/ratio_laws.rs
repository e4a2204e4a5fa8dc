//! Laws of differences, shares, compliance ratios and posterior limits, on numbers drawn by proptest.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use fullshift_stats::censored::{Limits, Observation, Quantity, Sample};
use fullshift_stats::comparison::{paired, unpaired};
use fullshift_stats::compliance::{self, consecutive_samples};
use fullshift_stats::posterior::{Posterior, Prior};
use fullshift_stats::shares::OfTotals;
use proptest::prelude::*;

const CONFIDENCES: [f64; 5] = [0.5, 0.7, 0.9, 0.95, 0.99];

fn logarithms() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(-3.0f64..3.0, 3..20)
}

fn close(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * a.abs().max(b.abs()).max(1e-6)
}

fn turned(values: &[f64]) -> Vec<f64> {
    values.iter().rev().copied().collect()
}

/// Limits of the mean and of the 95th percentile under the program's own prior for an exposure beside a limit.
fn posterior(values: &[f64], limit: f64, confidence: f64) -> [Limits; 2] {
    let observations: Vec<_> = values.iter().map(|v| Observation::exact(*v).unwrap()).collect();
    let sample = Sample::new(&observations).unwrap();
    let posterior = Posterior::new(&sample, &Prior::around(limit).unwrap()).unwrap();
    [Quantity::Mean, Quantity::Percentile(0.95)].map(|q| posterior.limits(q, confidence).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(20_271_128), ..ProptestConfig::default() })]

    #[test]
    fn a_difference_turns_its_sign_with_its_sides_and_follows_what_is_added(
        x in logarithms(), y in logarithms(), shift in -5.0f64..5.0, factor in 0.01f64..100.0,
    ) {
        let (there, back) = (unpaired(&x, &y).unwrap(), unpaired(&y, &x).unwrap());
        prop_assert!(close(there.value, -back.value, 1e-9) && close(there.error, back.error, 1e-12));
        prop_assert!(close(there.upper(0.95).unwrap(), -back.lower(0.95).unwrap(), 1e-9));
        let moved: Vec<f64> = x.iter().map(|v| v + shift).collect();
        let moved = unpaired(&moved, &y).unwrap();
        prop_assert!((moved.value - there.value).abs() - shift.abs() < 1e-9 && close(moved.error, there.error, 1e-9));
        let scaled = |values: &[f64]| values.iter().map(|v| v * factor).collect::<Vec<_>>();
        let scaled = unpaired(&scaled(&x), &scaled(&y)).unwrap();
        prop_assert!((scaled.lower(0.9).unwrap() - factor * there.lower(0.9).unwrap()).abs() < 1e-9 * factor);
        prop_assert!(close(scaled.df, there.df, 1e-9));
    }

    #[test]
    fn the_order_of_values_changes_no_difference_and_no_share(x in logarithms(), y in logarithms()) {
        let (a, b) = (unpaired(&x, &y).unwrap(), unpaired(&turned(&x), &turned(&y)).unwrap());
        prop_assert!(close(a.value, b.value, 1e-9) && close(a.error, b.error, 1e-12));
        let (a, b) = (paired(&x).unwrap(), paired(&turned(&x)).unwrap());
        prop_assert!(close(a.value, b.value, 1e-9) && close(a.error, b.error, 1e-12));
        let parts: Vec<f64> = x.iter().map(|v| v.exp()).collect();
        let totals: Vec<f64> = parts.iter().enumerate().map(|(i, p)| p + 0.3 * (i as f64 + 1.0)).collect();
        let (a, b) = (OfTotals::new(&parts, &totals).unwrap(), OfTotals::new(&turned(&parts), &turned(&totals)).unwrap());
        prop_assert!(close(a.share(), b.share(), 1e-12) && close(a.standard_error(), b.standard_error(), 1e-9));
    }

    #[test]
    fn limits_of_differences_and_shares_widen_with_confidence(x in logarithms(), y in logarithms()) {
        let difference = unpaired(&x, &y).unwrap();
        let parts: Vec<f64> = x.iter().map(|v| v.exp()).collect();
        let totals: Vec<f64> = parts.iter().enumerate().map(|(i, p)| p + 0.3 * (i as f64 + 1.0)).collect();
        let share = OfTotals::new(&parts, &totals).unwrap();
        for pair in CONFIDENCES.windows(2) {
            prop_assert!(difference.lower(pair[1]).unwrap() < difference.lower(pair[0]).unwrap());
            prop_assert!(difference.upper(pair[1]).unwrap() > difference.upper(pair[0]).unwrap());
            prop_assert!(share.lower(pair[1]).unwrap() <= share.lower(pair[0]).unwrap());
            prop_assert!(share.upper(pair[1]).unwrap() >= share.upper(pair[0]).unwrap());
        }
    }

    #[test]
    fn units_cancel_in_shares_and_ratios(x in logarithms(), factor in 1e-3f64..1e3, limit in 0.1f64..50.0) {
        let parts: Vec<f64> = x.iter().map(|v| v.exp()).collect();
        let totals: Vec<f64> = parts.iter().map(|p| 1.7 * p + 0.2).collect();
        let scaled = |values: &[f64]| values.iter().map(|v| v * factor).collect::<Vec<_>>();
        let (a, b) = (OfTotals::new(&parts, &totals).unwrap(), OfTotals::new(&scaled(&parts), &scaled(&totals)).unwrap());
        prop_assert!(close(a.share(), b.share(), 1e-12) && close(a.upper(0.9).unwrap(), b.upper(0.9).unwrap(), 1e-9));
        let samples = |factor: f64| -> Vec<compliance::Sample> {
            let sample = |(i, p): (usize, &f64)| compliance::Sample { minutes: 10.0 + i as f64, concentration: p * factor };
            parts.iter().enumerate().map(sample).collect()
        };
        let one = consecutive_samples(&samples(1.0), limit, 0.2).unwrap();
        let other = consecutive_samples(&samples(factor), limit * factor, 0.2).unwrap();
        prop_assert!(close(one.ratio, other.ratio, 1e-12) && close(one.upper, other.upper, 1e-12));
    }

    #[test]
    fn a_sample_split_in_two_leaves_the_mean_as_it_was(x in logarithms(), limit in 0.1f64..50.0, at in 0.05f64..0.95) {
        let whole: Vec<_> = x.iter().map(|v| compliance::Sample { minutes: 60.0, concentration: v.exp() }).collect();
        let mut split = whole.clone();
        split.push(compliance::Sample { minutes: 60.0 * (1.0 - at), ..whole[0] });
        split[0].minutes *= at;
        let (a, b) = (consecutive_samples(&whole, limit, 0.2).unwrap(), consecutive_samples(&split, limit, 0.2).unwrap());
        prop_assert!(close(a.ratio, b.ratio, 1e-12) && b.upper <= a.upper * (1.0 + 1e-12));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(20_271_129), ..ProptestConfig::default() })]

    #[test]
    fn posterior_limits_scale_with_values_and_limit_and_widen_with_confidence(x in prop::collection::vec(-1.5f64..1.5, 3..9), factor in 1e-2f64..1e2) {
        let values: Vec<f64> = x.iter().map(|v| v.exp()).collect();
        let scaled: Vec<f64> = values.iter().map(|v| v * factor).collect();
        let (one, other) = (posterior(&values, 2.0, 0.95), posterior(&scaled, 2.0 * factor, 0.95));
        let wider = posterior(&values, 2.0, 0.99);
        for ((a, b), w) in one.iter().zip(&other).zip(&wider) {
            let ends = |l: &Limits| [l.lower.value().unwrap(), l.upper.value().unwrap()];
            let ([low, high], [low_b, high_b], [low_w, high_w]) = (ends(a), ends(b), ends(w));
            prop_assert!(close(low * factor, low_b, 1e-6) && close(high * factor, high_b, 1e-6), "{a:?} {b:?}");
            prop_assert!(low_w < low && high_w > high, "{a:?} {w:?}");
        }
    }
}
