//! Every figure of a complete sample, given what it cannot use: a reason, or a right figure; never NaN, never a panic.

#![allow(clippy::unwrap_used, clippy::panic, reason = "tests stop where they fail")]

use fullshift_stats::complete::land::{Location, ln_mean_lower, ln_mean_upper};
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, order_statistics, percentile,
};
use fullshift_stats::{Error, Result, fit};

fn every_figure(sample: &LogSample) -> Vec<(&'static str, Result<f64>)> {
    vec![
        ("gm", geometric_mean::estimate(sample)),
        ("gm lower", geometric_mean::lower(sample, 0.95)),
        ("gm upper", geometric_mean::upper(sample, 0.95)),
        ("gsd", geometric_sd::estimate(sample)),
        ("gsd lower", geometric_sd::lower(sample, 0.95)),
        ("gsd upper", geometric_sd::upper(sample, 0.95)),
        ("mean", arithmetic_mean::estimate(sample)),
        ("mean lower", arithmetic_mean::lower(sample, 0.95)),
        ("mean upper", arithmetic_mean::upper(sample, 0.95)),
        ("p95", percentile::estimate(sample, 0.95)),
        ("p95 lower", percentile::lower(sample, 0.95, 0.7)),
        ("p95 upper", percentile::upper(sample, 0.95, 0.7)),
        ("exceedance", exceedance::estimate(sample, 1.0)),
        ("exceedance lower", exceedance::lower(sample, 1.0, 0.95)),
        ("exceedance upper", exceedance::upper(sample, 1.0, 0.95)),
        ("exceedance unbiased", exceedance::unbiased(sample, 1.0)),
    ]
}

fn assert_numbers_or_reasons(sample: &LogSample) {
    for (name, figure) in every_figure(sample) {
        match figure {
            Ok(value) => assert!(value.is_finite() && value >= 0.0, "{name} of {sample:?} is {value}"),
            Err(Error::OutsideDomain { .. }) => {}
            Err(error) => panic!("{name} of {sample:?}: {error}"),
        }
    }
}

fn reason(values: &[f64]) -> String {
    LogSample::from_values(values).unwrap_err().to_string()
}

#[test]
fn an_empty_list_and_a_single_value_are_refused_for_their_number() {
    assert_eq!(reason(&[]), "number of values is 0; it must be 2 or more");
    assert_eq!(reason(&[3.0]), "number of values is 1; it must be 2 or more");
}

#[test]
fn zeros_negatives_nan_and_infinities_are_refused_by_their_value() {
    for bad in [0.0, -0.0, -1.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(reason(&[1.0, bad, 2.0]).starts_with("measured value is "), "{bad}");
        assert!(
            LogSample::from_ln(&[1.0, 2.0, if bad == 0.0 || bad == -1.0 { f64::NAN } else { bad }]).is_err()
        );
    }
}

#[test]
fn values_all_equal_are_refused_for_want_of_spread() {
    for value in [1e-300, 0.3, 7.0, 1e300] {
        assert!(reason(&[value; 5]).contains("not all equal"));
    }
}

#[test]
fn two_values_from_one_end_of_the_range_to_the_other_give_numbers_or_reasons() {
    for values in
        [[1e-300, 1e300], [1.0, 1.000_000_1], [1.0, 1.0 + f64::EPSILON], [f64::MIN_POSITIVE, f64::MAX]]
    {
        assert_numbers_or_reasons(&LogSample::from_values(&values).unwrap());
    }
}

#[test]
fn a_spread_from_1e_minus_300_to_1e300_gives_numbers_or_reasons() {
    for n in [3, 10, 100] {
        let values: Vec<f64> =
            (0..n).map(|i| 10f64.powf(-300.0 + 600.0 * f64::from(i) / f64::from(n - 1))).collect();
        let sample = LogSample::from_values(&values).unwrap();
        assert_numbers_or_reasons(&sample);
        assert!((sample.mean_ln()).abs() < 1e-10);
        assert!(geometric_mean::estimate(&sample).is_ok());
    }
}

#[test]
fn a_million_values_give_every_figure_close_to_the_truth() {
    // The normal quantiles of a million equally likely points: mean 0, standard deviation 1.
    let n = 1_000_000;
    let ln_values: Vec<f64> = (0..n)
        .map(|i| fullshift_stats::special::normal::quantile((f64::from(i) + 0.5) / f64::from(n)).unwrap())
        .collect();
    let sample = LogSample::from_ln(&ln_values).unwrap();
    for (name, figure) in every_figure(&sample) {
        assert!(figure.is_ok(), "{name}: {figure:?}");
    }
    let truth = 0.5_f64.exp();
    let (low, high) =
        (arithmetic_mean::lower(&sample, 0.95).unwrap(), arithmetic_mean::upper(&sample, 0.95).unwrap());
    assert!(low < truth && truth < high && high / low < 1.01);
    let p95 = 1.644_853_626_951_472_2_f64.exp();
    let (low, high) =
        (percentile::lower(&sample, 0.95, 0.95).unwrap(), percentile::upper(&sample, 0.95, 0.95).unwrap());
    assert!(low < p95 && p95 < high && high / low < 1.01);
}

#[test]
fn extreme_statistics_give_numbers_or_reasons() {
    for n in [2, 3, 30, 1_000_000] {
        for mean_ln in [-1e3, -700.0, 0.0, 700.0, 1e3] {
            for sd_ln in [f64::MIN_POSITIVE, 1e-300, 1e-9, 0.5, 30.0, 976.0, 1.1e3] {
                assert_numbers_or_reasons(&LogSample::from_statistics(n, mean_ln, sd_ln).unwrap());
            }
        }
    }
}

#[test]
fn statistics_that_no_sample_has_are_refused() {
    for (mean_ln, sd_ln) in [
        (f64::NAN, 1.0),
        (f64::INFINITY, 1.0),
        (0.0, 0.0),
        (0.0, -1.0),
        (0.0, f64::NAN),
        (0.0, f64::INFINITY),
    ] {
        assert!(LogSample::from_statistics(5, mean_ln, sd_ln).is_err(), "{mean_ln} {sd_ln}");
    }
    for (ln, s, v, n) in
        [(f64::NAN, 1.0, 3.0, 4.0), (0.0, 0.0, 3.0, 4.0), (0.0, 1.0, 0.5, 4.0), (0.0, 1.0, 3.0, f64::NAN)]
    {
        assert!(Location::new(ln, s, v, n).is_err());
    }
}

#[test]
fn confidences_shares_and_points_outside_their_range_are_refused() {
    let sample = LogSample::from_statistics(6, 0.0, 1.0).unwrap();
    for bad in [f64::NAN, f64::INFINITY, -0.1, 0.0, 1.0, 1.5] {
        assert!(geometric_mean::upper(&sample, bad).is_err() && geometric_sd::lower(&sample, bad).is_err());
        assert!(
            arithmetic_mean::upper(&sample, bad).is_err() && exceedance::lower(&sample, 1.0, bad).is_err()
        );
        assert!(
            percentile::upper(&sample, bad, 0.95).is_err() && percentile::upper(&sample, 0.95, bad).is_err()
        );
        assert!(order_statistics::percentile_upper(&[1.0, 2.0], bad, 0.95).is_err());
    }
    // A spread so small that no limit leaves the range of a double.
    let narrow = LogSample::from_statistics(6, 0.0, 1e-3).unwrap();
    for (confidence, allowed) in [(1e-9, true), (1.0 - 1e-9, true), (1e-10, false), (1.0 - 1e-10, false)] {
        assert_eq!(geometric_sd::upper(&narrow, confidence).is_ok(), allowed, "{confidence}");
        assert_eq!(arithmetic_mean::lower(&narrow, confidence).is_ok(), allowed, "{confidence}");
    }
    for bad in [f64::NAN, f64::INFINITY, 0.0, -2.0] {
        assert!(
            exceedance::upper(&sample, bad, 0.95).is_err() && exceedance::estimate(&sample, bad).is_err()
        );
    }
}

#[test]
fn lands_limits_settle_over_the_whole_range_of_statistics() {
    for df in [1.0, 1.5, 2.0, 5.0, 29.5, 1e3, 1e5, 1e6] {
        for n in [0.5, 1.0, df + 1.0, 3.0 * df] {
            for s in [1e-6, 0.01, 0.3, 1.0, 3.0, 10.0, 300.0] {
                let at = Location::new(0.2, s, df, n).unwrap();
                for confidence in [0.05, 0.5, 0.7, 0.95, 0.999] {
                    let (low, high) = (ln_mean_lower(&at, confidence), ln_mean_upper(&at, confidence));
                    let (Ok(low), Ok(high)) = (&low, &high) else {
                        panic!("df {df} n {n} s {s} confidence {confidence}: {low:?} {high:?}")
                    };
                    assert!(low.is_finite() && high.is_finite());
                    assert!(
                        (low <= high) == (confidence >= 0.5)
                            || (high - low).abs() < 1e-9 * (1.0 + high.abs())
                    );
                }
            }
        }
    }
}

#[test]
fn tests_of_fit_refuse_what_they_cannot_judge() {
    assert!(fit::shapiro_wilk(&[1.0, 2.0]).is_err() && fit::shapiro_wilk(&[1.0; 10]).is_err());
    assert!(fit::shapiro_wilk(&(0..5001).map(f64::from).collect::<Vec<_>>()).is_err());
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(fit::shapiro_wilk(&[1.0, bad, 2.0]).is_err());
        assert!(fit::probability_plot_correlation(&[1.0, bad, 2.0]).is_err());
        assert!(fit::mann_kendall(&[1.0, 2.0, 3.0], &[1.0, bad, 2.0]).is_err());
        assert!(fit::mann_kendall(&[1.0, bad, 3.0], &[1.0, 4.0, 2.0]).is_err());
    }
    assert!(fit::mann_kendall(&[1.0, 2.0], &[1.0, 2.0, 3.0]).is_err());
    assert!(fit::mann_kendall(&[1.0, 2.0, 3.0], &[1.0, 1.0, 1.0]).is_err());
    assert!(fit::mann_kendall(&[1.0, 1.0, 1.0], &[1.0, 2.0, 1.0]).is_err());
    assert!(order_statistics::percentile_lower(&[], 0.5, 0.9).is_err());
    assert!(order_statistics::percentile_lower(&[1.0, f64::NAN], 0.5, 0.9).is_err());
}

#[test]
fn tests_of_fit_bear_any_size_of_values() {
    for scale in [1e-300, 1.0, 1e300] {
        let values: Vec<f64> = [1.0, 2.0, 4.0, 5.0, 5.5].iter().map(|v| v * scale).collect();
        let test = fit::shapiro_wilk(&values).unwrap();
        assert!((0.0..=1.0).contains(&test.w) && (0.0..=1.0).contains(&test.p));
        let straight = fit::probability_plot_correlation(&values).unwrap();
        assert!((0.9..=1.0).contains(&straight));
    }
}
