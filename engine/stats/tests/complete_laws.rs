//! Laws that every figure of a complete sample obeys, on samples drawn by proptest.

use fullshift_stats::Result;
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, land, order_statistics, percentile,
};
use fullshift_stats::fit;
use proptest::prelude::*;

type Figure = fn(&LogSample, f64) -> Result<f64>;

/// Upper limits that scale with the values.
const UPPER: [Figure; 3] =
    [geometric_mean::upper, arithmetic_mean::upper, |s, confidence| percentile::upper(s, 0.95, confidence)];
/// Lower limits that scale with the values.
const LOWER: [Figure; 3] =
    [geometric_mean::lower, arithmetic_mean::lower, |s, confidence| percentile::lower(s, 0.95, confidence)];

fn values() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(-3.0f64..3.0, 3..40).prop_map(|ln| ln.into_iter().map(f64::exp).collect())
}

fn close(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * a.abs().max(b.abs())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(20_260_101), ..ProptestConfig::default() })]

    #[test]
    fn scaling_the_values_scales_every_figure_and_leaves_the_deviation(x in values(), factor in 1e-6f64..1e6) {
        let sample = LogSample::from_values(&x).unwrap();
        let scaled = LogSample::from_values(&x.iter().map(|v| v * factor).collect::<Vec<_>>()).unwrap();
        for limit in UPPER.iter().chain(&LOWER) {
            let (Ok(a), Ok(b)) = (limit(&sample, 0.95), limit(&scaled, 0.95)) else { continue };
            prop_assert!(close(a * factor, b, 1e-9), "{a} x {factor} is not {b}");
        }
        prop_assert!(close(geometric_sd::upper(&sample, 0.9).unwrap(), geometric_sd::upper(&scaled, 0.9).unwrap(), 1e-11));
        let (a, b) = (exceedance::upper(&sample, 2.0, 0.95).unwrap(), exceedance::upper(&scaled, 2.0 * factor, 0.95).unwrap());
        prop_assert!(close(a, b, 1e-9));
    }

    #[test]
    fn the_order_of_the_values_does_not_matter(x in values()) {
        let mut turned = x.clone();
        turned.reverse();
        turned.rotate_left(1);
        let (a, b) = (LogSample::from_values(&x).unwrap(), LogSample::from_values(&turned).unwrap());
        prop_assert!((a.mean_ln() - b.mean_ln()).abs() < 1e-14 && close(a.sd_ln(), b.sd_ln(), 1e-13));
        prop_assert!(close(fit::shapiro_wilk(&x).unwrap().w, fit::shapiro_wilk(&turned).unwrap().w, 1e-14));
        let (a, b) = (order_statistics::percentile_upper(&x, 0.5, 0.8), order_statistics::percentile_upper(&turned, 0.5, 0.8));
        prop_assert_eq!(a.unwrap(), b.unwrap());
    }

    #[test]
    fn limits_widen_with_confidence_and_enclose_one_another(x in values()) {
        let sample = LogSample::from_values(&x).unwrap();
        for (lower, upper) in LOWER.iter().zip(&UPPER) {
            let mut last = (f64::INFINITY, 0.0);
            for confidence in [0.5, 0.7, 0.9, 0.95, 0.99] {
                let (Ok(low), Ok(high)) = (lower(&sample, confidence), upper(&sample, confidence)) else { continue };
                prop_assert!(low <= high * (1.0 + 1e-12));
                prop_assert!(low < last.0 && high > last.1, "{low} {high} after {last:?}");
                last = (low, high);
            }
        }
    }

    #[test]
    fn the_percentile_limit_and_the_exceedance_limit_are_the_same_test(x in values(), share in 0.5f64..0.99) {
        let sample = LogSample::from_values(&x).unwrap();
        let point = percentile::upper(&sample, share, 0.95).unwrap();
        prop_assert!(close(exceedance::upper(&sample, point, 0.95).unwrap(), 1.0 - share, 1e-9));
        let point = percentile::lower(&sample, share, 0.95).unwrap();
        prop_assert!(close(exceedance::lower(&sample, point, 0.95).unwrap(), 1.0 - share, 1e-9));
    }

    #[test]
    fn the_exceedance_falls_as_the_point_rises(x in values()) {
        let sample = LogSample::from_values(&x).unwrap();
        let (mut last_low, mut last_high) = (1.0, 1.0);
        for i in -20..=20 {
            let point = f64::from(i).exp2();
            let low = exceedance::lower(&sample, point, 0.95).unwrap();
            let high = exceedance::upper(&sample, point, 0.95).unwrap();
            prop_assert!((0.0..=1.0).contains(&low) && high <= 1.0 && low <= high && low <= last_low && high <= last_high);
            (last_low, last_high) = (low, high);
        }
    }

    #[test]
    fn a_reversed_series_has_the_opposite_trend(x in values()) {
        let times: Vec<f64> = (0..x.len()).map(|i| i as f64).collect();
        let back: Vec<f64> = x.iter().rev().copied().collect();
        let (a, b) = (fit::mann_kendall(&times, &x).unwrap(), fit::mann_kendall(&times, &back).unwrap());
        prop_assert!(a.s == -b.s && close(a.p, b.p, 1e-12) && a.p > 0.0 && a.p <= 1.0);
    }

    #[test]
    fn shapiro_wilk_does_not_feel_shift_and_scale(x in values(), shift in -5.0f64..5.0, scale in 1e-3f64..1e3) {
        let moved: Vec<f64> = x.iter().map(|v| (v + shift) * scale).collect();
        let (a, b) = (fit::shapiro_wilk(&x).unwrap(), fit::shapiro_wilk(&moved).unwrap());
        prop_assert!((a.w - b.w).abs() < 1e-12 && (0.0..=1.0).contains(&a.w) && (0.0..=1.0).contains(&a.p));
    }
}

#[test]
fn lands_limits_rise_steadily_with_the_deviation_and_tighten_with_the_number() {
    for n in [2usize, 3, 6, 30, 1000] {
        let mut last = f64::NEG_INFINITY;
        for i in 1..400 {
            let s = f64::from(i) * 0.025;
            let sample = LogSample::from_statistics(n, 0.0, s).unwrap();
            let at = fullshift_stats::complete::land::Location::of_sample(&sample);
            let high = fullshift_stats::complete::land::ln_mean_upper(&at, 0.95).unwrap();
            assert!(high > last, "n {n} s {s}");
            last = high;
        }
    }
    let width = |n: usize| {
        let at = fullshift_stats::complete::land::Location::new(0.0, 1.0, n as f64 - 1.0, n as f64).unwrap();
        fullshift_stats::complete::land::ln_mean_upper(&at, 0.95).unwrap()
            - fullshift_stats::complete::land::ln_mean_lower(&at, 0.95).unwrap()
    };
    assert!((3..200).all(|n| width(n + 1) < width(n)));
}

#[test]
fn tolerance_factors_fall_smoothly_with_the_number_of_values() {
    let factor = |n: usize| percentile::tolerance_factor_upper(n, 0.95, 0.95).unwrap();
    let mut last = factor(2);
    let mut last_drop = f64::INFINITY;
    for n in 3..600 {
        let now = factor(n);
        let drop = last - now;
        assert!(drop > 0.0 && drop < last_drop, "at {n}");
        (last, last_drop) = (now, drop);
    }
}

#[test]
fn without_spread_to_speak_of_lands_limits_become_students() {
    let sample = LogSample::from_statistics(7, 0.0, 1e-6).unwrap();
    let land = arithmetic_mean::upper(&sample, 0.95).unwrap().ln();
    let student = geometric_mean::upper(&sample, 0.95).unwrap().ln();
    assert!(((land - student) / student).abs() < 1e-5, "{land} {student}");
}

/// Points far out in large samples, where the share is tiny but not nothing: the noncentrality at which T lies below `u sqrt(n)` with
/// probability 0.95 and 0.05, by mpmath's quadrature over the chi distribution, 30 digits.
#[test]
fn shares_far_out_in_large_samples_keep_their_digits() {
    for (n, u, low, high) in [
        (100, 10.0, 2.92867757239205e-29, 6.25671032550072e-19),
        (400, 7.0, 6.14169308250323e-14, 2.3154982498076e-11),
    ] {
        let sample = LogSample::from_statistics(n, 0.0, 1.0).unwrap();
        let point = f64::exp(u);
        assert!(close(exceedance::lower(&sample, point, 0.95).unwrap(), low, 1e-10));
        assert!(close(exceedance::upper(&sample, point, 0.95).unwrap(), high, 1e-10));
    }
}

/// The rank from below that the percentile exceeds, and that from above, with a confidence; by the binomial distribution of SciPy 1.17.1.
#[test]
fn ranks_around_a_percentile_are_those_of_the_binomial_distribution() {
    for (n, share, confidence, ranks) in [
        (10, 0.5, 0.95, (Some(2), Some(9))),
        (10, 0.95, 0.7, (Some(9), None)),
        (10, 0.9, 0.95, (Some(7), None)),
        (10, 0.1, 0.9, (None, Some(3))),
        (60, 0.5, 0.95, (Some(24), Some(37))),
        (60, 0.95, 0.7, (Some(56), Some(59))),
        (60, 0.9, 0.95, (Some(50), Some(59))),
        (60, 0.1, 0.9, (Some(3), Some(10))),
        (100, 0.5, 0.95, (Some(42), Some(59))),
        (100, 0.95, 0.7, (Some(94), Some(97))),
        (100, 0.9, 0.95, (Some(85), Some(96))),
    ] {
        // Twice its rank, falling.
        let values: Vec<f64> = (1..=n).rev().map(|i| 2.0 * f64::from(i)).collect();
        let lower = order_statistics::percentile_lower(&values, share, confidence).unwrap();
        let upper = order_statistics::percentile_upper(&values, share, confidence).unwrap();
        assert_eq!((lower.map(|l| l.rank), upper.map(|l| l.rank)), ranks, "{n} {share} {confidence}");
        for limit in [lower, upper].into_iter().flatten() {
            assert_eq!(limit.value, 2.0 * limit.rank as f64);
            assert!(limit.confidence >= confidence && limit.confidence < 1.0);
        }
    }
}

/// With one value's worth of location nothing is taken off or added: the mean of the location is the location.
#[test]
fn a_location_worth_one_value_estimates_itself() {
    let at = land::Location::new(0.7, 1.3, 4.0, 1.0).unwrap();
    assert_eq!(arithmetic_mean::ln_estimate(&at).unwrap(), 0.7);
    let less = land::Location::new(0.7, 1.3, 4.0, 0.99).unwrap();
    assert!(arithmetic_mean::ln_estimate(&less).is_err());
}

/// Samples so small that their weights have forms of their own; W and p by SciPy 1.17.1.
#[test]
fn normality_of_four_five_and_six_values_is_that_of_scipy() {
    for (values, w, p) in [
        (&[2.0, 3.0, 5.0, 5.5][..], 0.9156860679675836, 0.5130400900610478),
        (&[1.2, 2.9, 3.1, 4.8, 9.0], 0.9020072539186649, 0.4210789541957588),
        (&[148.0, 154.0, 158.0, 160.0, 161.0, 162.0], 0.881669430249985, 0.2768115065789898),
    ] {
        let found = fit::shapiro_wilk(values).unwrap();
        assert!((found.w - w).abs() < 1e-6 && (found.p - p).abs() < 1e-5, "{found:?}");
    }
}
