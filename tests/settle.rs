//! What would settle an open verdict, against counts from another program.
//!
//! The eight shifts of `fixtures/worked/niosh-77-173-eight-shifts`: mean of the logarithms 6.91230, standard deviation 0.322481, 95th percentile
//! 1707 ppm, mean 1058 ppm. The counts are those of scipy's noncentral t (`scipy.stats.nct`): the first number of shifts whose chance reaches 80 %;
//! for the mean those of `power_mean` in `fixtures/generators/power_tables.py`.

use fullshift_tests::{assessment, copy, fixture, fullshift};
use serde_json::Value;
use std::path::Path;

fn study(folder: &Path, limit: &str, rules: &str) {
    copy(&fixture("worked/niosh-77-173-eight-shifts"), folder);
    let file = folder.join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    let text = text.replace("value: 1000 ppm", &format!("value: {limit}"));
    std::fs::write(file, text.replace("[screening]", rules)).unwrap();
}

fn verdict(limit: &str, rule: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    study(folder.path(), limit, &format!("[{rule}]"));
    assessment(folder.path())["groups"][0]["verdicts"][0].clone()
}

#[track_caller]
fn assert_settled(limit: &str, rule: &str, more: f64, words: &str) {
    let verdict = verdict(limit, rule);
    assert_eq!(verdict["verdict"], "undecided", "{verdict}");
    assert_eq!(verdict["more_shifts"]["value"], more, "{rule} at {limit}: {verdict}");
    assert_eq!(verdict["to_settle"], words, "{rule} at {limit}");
}

#[test]
fn at_1900_ppm_the_tolerance_rule_needs_45_shifts_in_all() {
    assert_settled("1900 ppm", "tolerance", 45.0 - 8.0, "about 37 more shifts would show it below (80 %)");
}

#[test]
fn at_1900_ppm_the_exceedance_rule_needs_154_shifts_in_all() {
    let words = "about 146 more shifts would show it below (80 %)";
    assert_settled("1900 ppm", "exceedance", 154.0 - 8.0, words);
    assert_settled("1900 ppm", "tolerance-strict", 154.0 - 8.0, words);
}

#[test]
fn at_1200_ppm_land_s_limit_of_the_mean_needs_48_shifts_in_all() {
    assert_settled("1200 ppm", "mean", 48.0 - 8.0, "about 40 more shifts would show it below (80 %)");
    assert_settled("1250 ppm", "mean", 29.0 - 8.0, "about 21 more shifts would show it below (80 %)");
}

#[test]
fn at_1400_ppm_thirty_shifts_in_all_would_show_it_above() {
    let words = "about 22 more shifts would show it above (80 %); only lower exposure would bring it below";
    assert_settled("1400 ppm", "tolerance", 30.0 - 8.0, words);
}

#[test]
fn at_1800_ppm_the_strict_rule_needs_584_shifts_which_is_no_plan() {
    let words = "more shifts will hardly settle it (about 576 of them); lower exposure would";
    assert_settled("1800 ppm", "tolerance-strict", 584.0 - 8.0, words);
}

#[test]
fn at_the_percentile_itself_no_number_of_shifts_will_do() {
    let verdict = verdict("1707 ppm", "tolerance");
    assert_eq!(verdict["to_settle"], "more shifts will not settle it; lower exposure would");
    let reason = verdict["more_shifts"]["not_given"].as_str().unwrap();
    assert!(reason.contains("20000 more shifts would not settle it with 80 %"), "{reason}");
}

#[test]
fn a_verdict_that_is_given_says_nothing_of_more_shifts() {
    let verdict = verdict("2500 ppm", "tolerance");
    assert_eq!(verdict["verdict"], "below");
    assert!(verdict["to_settle"].is_null() && verdict.get("more_shifts").is_none(), "{verdict}");
}

#[test]
fn a_rule_that_the_data_cannot_answer_says_what_is_missing() {
    for (rule, missing) in [
        ("nonparametric", "needs 59 shifts with a figure, there are 8"),
        ("individual", "two workers or more are needed, one of them with repeated shifts"),
        ("screening", "meant for 3 to 5 shifts, there are 8"),
    ] {
        let verdict = verdict("2000 ppm", rule);
        assert_eq!(verdict["verdict"], "not-given");
        assert_eq!(verdict["because"], missing);
        assert!(verdict["to_settle"].is_null());
    }
}

#[test]
fn the_working_of_the_count_can_be_traced() {
    let folder = tempfile::tempdir().unwrap();
    study(folder.path(), "1900 ppm", "[tolerance]");
    let words = ["trace", folder.path().to_str().unwrap(), "workers/twa/to-settle/tolerance"];
    let ran = fullshift(&words);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    for part in [
        "to-settle/tolerance = 37 shifts",
        "noncentral t",
        "ethyl-alcohol/twa/gm",
        "45 shifts in all give `below`",
    ] {
        assert!(ran.out.contains(part), "no `{part}` in\n{}", ran.out);
    }
}

/// EN 689:2018, 5.5.3 and annex F (recalled): passed where U_R = (ln OELV - ln GM) / ln GSD is at least U_T, which is 2.072 for eight results
/// (table F.1). With the logarithms above the border is exp(6.91230 + 2.072 x 0.322481) = 1959 ppm, to half a unit of U_T's last digit.
#[test]
fn the_statistical_test_of_the_standard_is_passed_from_1959_ppm_on() {
    assert_eq!(verdict("1950 ppm", "tolerance")["verdict"], "undecided");
    assert_eq!(verdict("1970 ppm", "tolerance")["verdict"], "below");
}
