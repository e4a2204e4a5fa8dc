//! A prior that the user enters, a rule of re-assessment of their own, and what a verdict carries where the workers are not one group.

use approx::assert_relative_eq;
use fullshift_tests::{assessment, copy, fixture, fullshift};
use serde_json::Value;

/// The first group result of the demo, with more text in its study file.
fn demo_with(more: &str) -> Value {
    demo_changed("", "", more)
}

/// The same with one text of the study file in the place of another.
fn demo_changed(from: &str, to: &str, more: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/composting-hall"), folder.path());
    let file = folder.path().join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    let text = text.replace("[screening, tolerance, exceedance]", "[tolerance, posterior, individual]");
    assert!(text.contains(from), "{from}");
    std::fs::write(&file, text.replacen(from, to, 1) + more).unwrap();
    assessment(folder.path())["groups"][0].clone()
}

fn chance(posterior: &Value) -> f64 {
    posterior["p95_above_limit"]["value"].as_f64().unwrap()
}

/// The program's own region, entered as a prior: a GM from a ten-thousandth of the limit to a hundred times it, a GSD from 1.05 to 10.
#[test]
fn the_programs_own_region_entered_as_a_prior_changes_no_chance() {
    let entered = demo_with(
        "\nprior:\n  - {agent: ammonia, kind: twa, gm: {lowest: 0.01 %, highest: 10000 %}, gsd: {lowest: 1.05, highest: 10}, source: test}\n",
    );
    assert_relative_eq!(chance(&entered["posterior"]), chance(&entered["posterior_flat"]), epsilon = 1e-9);
    assert_relative_eq!(chance(&entered["posterior"]), chance(&demo_with("")["posterior"]), epsilon = 1e-9);
}

#[test]
fn a_low_prior_lowers_the_chance_and_both_are_told() {
    let low = demo_with(
        "\nprior:\n  - {agent: ammonia, kind: twa, gm: {median: 5 %, gsd: 1.5}, gsd: {median: 1.5, factor: 1.2}, source: three visits to like halls}\n",
    );
    let (own, flat) = (chance(&low["posterior"]), chance(&low["posterior_flat"]));
    assert!(own < flat, "{own} {flat}");
    let rule = low["verdicts"].as_array().unwrap().iter().find(|v| v["rule"] == "posterior").unwrap();
    let because = rule["because"].as_str().unwrap();
    assert!(because.contains("entered by you: three visits to like halls"), "{because}");
    assert!(because.contains("under the flat prior of this program"), "{because}");
}

#[test]
fn without_a_prior_of_the_users_there_is_no_second_posterior() {
    assert!(demo_with("").get("posterior_flat").is_none());
}

/// The GM of the demo is 8.18 ppm: 0.16 of a TWA limit of 50 ppm, below which every rule finds it. Under its own limit of 20 ppm the rules
/// leave it undecided, and an assessment that is open does not stand for any time.
#[test]
fn the_next_assessment_is_proposed_by_the_gm_and_the_users_rule_takes_the_place_of_the_standards() {
    assert!(demo_with("")["reassess"]["not_given"].as_str().unwrap().contains("settle that first"));
    let at_50 = |more: &str| demo_changed("kind: twa, value: 20 ppm", "kind: twa, value: 50 ppm", more);
    let usual = at_50("");
    let share = usual["profile"]["gm"]["value"].as_f64().unwrap() / 50.0;
    assert!((0.1..0.25).contains(&share), "{share}");
    assert_eq!(usual["reassess"]["value"], 24.0);
    assert!(
        usual["reassess"]["method"]
            .as_str()
            .unwrap()
            .contains("EN 689:2018, annex I (informative), recalled")
    );
    let own = at_50(
        "\nreassess:\n  source: our own rule\n  steps: [{gm_below: 10 %, months: 30}, {gm_below: 60 %, months: 7}, {months: 3}]\n",
    );
    assert_eq!(own["reassess"]["value"], 7.0);
    assert!(own["reassess"]["method"].as_str().unwrap().contains("our own rule"));
}

/// The workers of the demo differ: the F test of its shift TWAs has p < 0.05.
#[test]
fn a_verdict_of_workers_who_differ_says_so() {
    let group = demo_with("");
    let p = group["workers"]["homogeneity"]["value"].as_f64().unwrap();
    assert!(p < 0.05, "{p}");
    let words = group["not_one_group"].as_str().unwrap();
    assert!(words.starts_with("not one group: workers differ (p 0.0"), "{words}");
    for name in group["workers"]["apart"].as_array().unwrap() {
        assert!(words.contains(name.as_str().unwrap()), "{words}");
    }
    let study = fixture("studies/composting-hall");
    let page = fullshift(&["assess".as_ref(), study.as_os_str()]).out;
    assert!(page.contains("not one group: workers differ"), "{page}");
}
