//! The tables of differences between workers, one by one, whether or not they are built into the program.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop, and shows what it found"
)]

use fullshift_stats::verify::run_table;
use serde_json::Value;

#[track_caller]
fn agrees(text: &str) {
    let result = run_table(text);
    println!(
        "{}: peak {:.1e}, mean {:.1e}, {} values",
        result.id, result.peak_relative_error, result.mean_relative_error, result.values
    );
    assert!(result.passed, "{result:#?}");
}

/// Each row as a table of its own, so that the output shows what each data set reaches.
#[track_caller]
fn agrees_row_by_row(text: &str) {
    let whole: Value = serde_json::from_str(text).unwrap();
    for row in whole["rows"].as_array().unwrap() {
        let mut one = whole.clone();
        one["rows"] = Value::Array(vec![row.clone()]);
        let result = run_table(&one.to_string());
        println!("{}: peak relative error {:.1e}", row["inputs"]["name"], result.peak_relative_error);
        assert!(result.passed, "{result:#?}");
    }
}

macro_rules! table {
    ($id:literal) => {
        include_str!(concat!("../../../fixtures/published/", $id, ".json"))
    };
}

#[test]
fn analysis_of_variance_has_the_certified_digits_of_nist() {
    agrees_row_by_row(table!("nist-strd-anova"));
}

#[test]
fn means_and_standard_deviations_have_the_certified_digits_of_nist() {
    agrees_row_by_row(table!("nist-strd-univariate"));
}

#[test]
fn both_likelihood_fits_and_the_shrunken_effects_are_those_of_lme4() {
    agrees(table!("workers-lme4"));
}

#[test]
fn profile_likelihood_limits_are_those_of_lme4() {
    agrees(table!("workers-lme4-profiles"));
}

#[test]
fn profile_likelihood_limits_agree_with_the_full_covariance_matrix() {
    agrees(table!("workers-profile-likelihood"));
}

#[test]
fn restricted_fits_agree_with_the_full_covariance_matrix() {
    agrees(table!("workers-restricted"));
}

#[test]
fn exact_limits_of_the_share_between_agree_with_forty_digit_roots() {
    agrees(table!("workers-share-between"));
}

#[test]
fn pivots_of_the_spread_between_agree_with_quadrature_over_the_other_variable() {
    agrees(table!("workers-spread-pivots"));
}

#[test]
fn pivots_of_the_distance_agree_with_adaptive_quadrature() {
    agrees(table!("workers-distance-pivots"));
}

#[test]
fn limits_of_the_total_spread_agree_with_forty_digit_points() {
    agrees(table!("workers-total"));
}

#[test]
fn points_of_the_f_distribution_agree_with_mpmath() {
    agrees(table!("workers-f-ratio"));
}

#[test]
fn printed_variance_components_are_met_to_the_last_digit() {
    agrees(table!("workers-printed"));
}
