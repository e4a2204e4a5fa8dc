//! Worked examples of the published literature as ordinary studies (`fixtures/worked`).
//!
//! The tolerance is half a unit of the last printed digit.

use fullshift_tests::{assessment, fixture};
use serde_json::Value;

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[track_caller]
fn assert_printed(found: f64, printed: f64, half_a_unit: f64) {
    assert!((found - printed).abs() <= half_a_unit, "{found} is not the printed {printed}");
}

fn only_shift(study: &str) -> Value {
    let shifts = assessment(&fixture(study))["shifts"].clone();
    assert_eq!(shifts.as_array().unwrap().len(), 1);
    shifts[0].clone()
}

/// 29 CFR 1910.1000(d)(1)(ii), read: 2 h at 150 ppm, 2 h at 75 ppm, 4 h at 50 ppm, printed 81.25 ppm; limit 100 ppm.
#[test]
fn the_federal_example_of_an_eight_hour_average_gives_81_25_ppm() {
    let shift = only_shift("worked/cfr-1910-1000-d-twa");
    assert_printed(number(&shift["twa"]["value"]), 81.25, 0.005);
    assert_printed(number(&shift["limits"][0]["ratio"]["value"]), 0.8125, 1e-12);
}

/// 29 CFR 1910.1000(d)(2)(ii), read: 500 of 1000, 45 of 200 and 40 of 200 ppm, printed 0.500 + 0.225 + 0.200 = 0.925.
#[test]
fn the_federal_example_of_a_mixture_gives_0_925() {
    let mixture = assessment(&fixture("worked/cfr-1910-1000-d-mixture"))["mixtures"][0].clone();
    assert_printed(number(&mixture["index"]["value"]), 0.925, 1e-12);
    for (part, printed) in [(0, 0.5), (1, 0.225), (2, 0.2)] {
        assert_printed(number(&mixture["parts"][part]["ratio"]["value"]), printed, 1e-12);
    }
}

/// Each of its three tubes is off by 10 %: the sum by 0.1 x sqrt(0.25 + 0.050625 + 0.04) = 0.058363, a standard deviation of the logarithm of
/// 0.063033, so that the limits lie a factor of exp(1.645 x 0.063033) = 1.10925 away.
#[test]
fn the_index_of_the_federal_mixture_is_off_by_the_error_of_its_tubes() {
    let index = assessment(&fixture("worked/cfr-1910-1000-d-mixture"))["mixtures"][0]["index"].clone();
    assert_printed(number(&index["measurement_high"]), 0.925 * 1.10925, 1e-5);
    assert_printed(number(&index["measurement_low"]), 0.925 / 1.10925, 1e-5);
}

/// NIOSH 77-173, section 4.2.2, from memory: 150, 100 and 230 min at 90, 140 and 110 ppm, printed 110 ppm and 1.1.
#[test]
fn the_manual_of_1977_prints_110_ppm_for_three_consecutive_samples() {
    let shift = only_shift("worked/niosh-77-173-consecutive");
    assert_printed(number(&shift["twa"]["value"]), 110.0, 0.5);
    assert_printed(number(&shift["limits"][0]["ratio"]["value"]), 1.1, 0.05);
}

/// NIOSH 77-173, section 4.2.3, from memory: eight tubes against 1000 ppm. The manual prints no mean; that of the
/// eight values is 8375 / 8 = 1046.875 ppm.
#[test]
fn eight_tubes_at_random_over_one_task_give_their_arithmetic_mean() {
    let shift = only_shift("worked/niosh-77-173-eight-tubes");
    assert_printed(number(&shift["twa"]["value"]), 1046.875, 1e-9);
}

/// OTM, appendix N, read in a reprint: 6.07 mg/m3 against 5 with an error of 0.23, printed 1.21, from 0.98 to 1.44.
#[test]
fn one_sample_of_the_federal_manual_is_undecided_from_0_98_to_1_44() {
    let test = only_shift("worked/otm-full-period")["limits"][0]["compliance"].clone();
    for (end, printed) in [("value", 1.21), ("low", 0.98), ("high", 1.44)] {
        assert_printed(number(&test["ratio"][end]), printed, 0.005);
    }
    assert_eq!(test["verdict"], "undecided");
}

/// OTM, appendix O, recalled: 240 min at 6.26 and 210 min at 5.85 mg/m3 against 5, printed 1.21 and 1.01. The manual
/// subtracts figures already rounded, 1.21 - 0.20, hence a whole unit for the lower limit.
#[test]
fn two_samples_of_the_federal_manual_are_above_at_1_01() {
    let test = only_shift("worked/otm-consecutive")["limits"][0]["compliance"].clone();
    assert_printed(number(&test["ratio"]["value"]), 1.21, 0.005);
    assert_printed(number(&test["ratio"]["low"]), 1.01, 0.01);
    assert_eq!(test["verdict"], "above");
    assert!(test["because"].as_str().unwrap().contains("tubes one after another over the full period"));
}

/// NIOSH 77-173, section 4.2.3, from memory: the chart of the manual finds the eight tubes neither above nor below.
#[test]
fn the_eight_grab_samples_of_1977_decide_nothing() {
    let test = only_shift("worked/niosh-77-173-eight-tubes")["limits"][0]["compliance"].clone();
    assert_eq!(test["verdict"], "undecided");
    assert_printed(number(&test["ratio"]["value"]), 1.046875, 1e-12);
}

/// NIOSH 77-173, section 4.2.3, from memory: the mean and standard deviation of the eight common logarithms of value
/// over limit are printed as 0.002 and 0.14.
#[test]
fn eight_values_have_the_printed_mean_and_deviation_of_logarithms() {
    let group = assessment(&fixture("worked/niosh-77-173-eight-shifts"))["groups"][0].clone();
    assert_eq!(group["n"], 8);
    assert_printed((number(&group["profile"]["gm"]["value"]) / 1000.0).log10(), 0.002, 0.0005);
    assert_printed(number(&group["profile"]["gsd"]["value"]).log10(), 0.14, 0.005);
}

/// USEPA 530-R-09-007, example 15-2, read in a copy: regression on order statistics of 25 values, six below 2 or 5, printed
/// mean of logarithms 2.277175, standard deviation of logarithms 1.261431, mean 19.827673.
#[test]
fn twenty_five_values_below_two_bounds_have_the_printed_second_opinion() {
    let group = assessment(&fixture("worked/unified-guidance-15-2"))["groups"][0].clone();
    let opinion = |name: &str| number(&group["second_opinion"][name]["value"]);
    assert_eq!((group["n"].as_u64(), group["censored"].as_u64()), (Some(25), Some(6)));
    assert_printed(opinion("gm_order_regression").ln(), 2.277175, 5e-7);
    assert_printed(opinion("gsd_order_regression").ln(), 1.261431, 5e-7);
    assert_printed(opinion("mean_order_regression"), 19.827673, 5e-7);
}

/// No published example: arithmetic alone. 5 min at 90, 5 at 30, 5 of 30 at 6 ppm: (450 + 150 + 30) / 15 = 42 ppm.
#[test]
fn the_first_fifteen_minutes_of_three_segments_are_the_highest() {
    let shift = only_shift("worked/three-segments");
    assert_printed(number(&shift["short_term"]["value"]), 42.0, 1e-9);
    assert_eq!(shift["short_term_window"]["start"].as_str().map(|s| s.contains("06:00")), Some(true));
    assert_eq!(shift["short_term_window"]["screening_only"], false);
}

/// Common practice, no published figures: C = R x 101.325 kPa / P; 8 at 640 mmHg is 8 x 760 / 640 = 9.5.
#[test]
fn a_reading_of_ten_corrects_in_proportion_to_the_air_pressure() {
    assert_readings(0, &[10.0, 10.665789473684, 11.258333333333, 12.0625, 14.475, 9.742788461538, 9.5]);
}

/// Common practice, no published figures: C = R x n_ref / n, here n_ref = 10 and R = 12.
#[test]
fn a_reading_of_twelve_corrects_in_inverse_proportion_to_the_strokes() {
    assert_readings(7, &[120.0, 60.0, 24.0, 12.0, 6.0]);
}

/// A table made up for the study: 0 C 1.3, 10 C 1.13, 20 C 1.0, 30 C 0.91: 0.955 at 25 C, 1.249 at 3 C.
#[test]
fn a_temperature_factor_is_linear_between_the_points_of_the_sheet() {
    assert_readings(12, &[9.55, 12.49, 10.0]);
}

/// Checks the readings of `tube-corrections` from number `first` on; the values carry twelve decimals.
#[track_caller]
fn assert_readings(first: usize, wanted: &[f64]) {
    let readings = assessment(&fixture("worked/tube-corrections"))["readings"].clone();
    for (i, wanted) in wanted.iter().enumerate() {
        let reading = &readings[first + i];
        assert_printed(number(&reading["low"]), *wanted, 5e-12 * wanted.max(1.0));
        assert_printed(number(&reading["high"]), *wanted, 5e-12 * wanted.max(1.0));
    }
}
