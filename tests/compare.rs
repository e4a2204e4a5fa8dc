//! Two groups, or one before and after, against R's `t.test`.
//!
//! Before: the eight shifts of `fixtures/worked/niosh-77-173-eight-shifts`, one for each of W1 to W8. After: the same workers with other readings.

use fullshift_tests::{copy, fixture, fullshift};
use serde_json::Value;
use std::path::Path;

const BEFORE: [&str; 8] = ["1225", "800", "1120", "1460", "975", "980", "525", "1290"];
const AFTER: [&str; 8] = ["610", "700", "560", "900", "400", "880", "310", "505"];

fn study(folder: &Path, readings: [&str; 8]) {
    copy(&fixture("worked/niosh-77-173-eight-shifts"), folder);
    let file = folder.join("readings.csv");
    let mut text = std::fs::read_to_string(&file).unwrap();
    for (before, after) in BEFORE.iter().zip(readings) {
        text = text.replace(&format!(",1,{before}\n"), &format!(",1,{after}\n"));
    }
    std::fs::write(file, text).unwrap();
}

fn compared(more: &[&str]) -> (u8, String, String) {
    let folder = tempfile::tempdir().unwrap();
    let [before, after] = ["before", "after"].map(|name| folder.path().join(name));
    study(&before, BEFORE);
    study(&after, AFTER);
    let words = ["compare", before.to_str().unwrap(), "workers", "--after", after.to_str().unwrap()];
    let ran = fullshift(&[&words[..], more].concat());
    (ran.code, ran.out, ran.talk)
}

fn result() -> Value {
    let (code, out, talk) = compared(&["--format", "json"]);
    assert_eq!(code, 0, "{out}{talk}");
    serde_json::from_str::<Value>(&out).unwrap()["results"][0].clone()
}

#[track_caller]
fn assert_ratio(way: &Value, expected: [f64; 4]) {
    let found = [
        &way["ratio"]["value"],
        &way["ratio"]["low"],
        &way["ratio"]["high"],
        &way["confidence_of_fall"]["value"],
    ];
    for (found, expected) in found.into_iter().zip(expected) {
        let found = found.as_f64().unwrap();
        assert!((found / expected - 1.0).abs() < 1e-9, "{found} is not {expected}: {way}");
    }
}

/// R: t.test(log(after), log(before)), conf.level = 0.9, and alternative = "less".
#[test]
fn all_shifts_are_compared_as_welch_does() {
    assert_ratio(&result()["unpaired"], WELCH);
}

/// R: the same with paired = TRUE.
#[test]
fn workers_who_are_in_both_are_compared_with_themselves() {
    let result = result();
    assert_ratio(&result["paired"], PAIRED);
    assert!(result["paired"]["notes"].as_array().unwrap().is_empty());
}

#[test]
fn the_page_tells_both_ways() {
    let (code, out, talk) = compared(&[]);
    assert_eq!(code, 0, "{out}{talk}");
    for part in ["all shifts", "within workers", "confidence of a fall", "one minus the one-sided p-value"] {
        assert!(out.contains(part), "no `{part}` in\n{out}");
    }
}

#[test]
fn a_group_is_not_compared_with_nothing_or_nobody() {
    let study = fixture("studies/composting-hall");
    let study = study.to_str().unwrap();
    let alone = fullshift(&["compare", study, "hall-operators"]);
    assert_eq!(alone.code, 2);
    assert!(alone.talk.contains("--after STUDY"), "{}", alone.talk);
    let nobody = fullshift(&["compare", study, "hall-operators", "hall-operatrs"]);
    assert_eq!(nobody.code, 2);
    assert!(nobody.talk.contains("did you mean `hall-operators`?"), "{}", nobody.talk);
}

/// Every shift figure of this study reaches down to zero: it has no logarithm and is refused with its reason.
#[test]
fn figures_known_as_wide_ranges_are_refused_with_the_reason() {
    let study = fixture("studies/all-below-detection");
    let words = ["compare", study.to_str().unwrap(), "hall-operators", "hall-operators", "--format", "json"];
    let ran = fullshift(&words);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let found: Value = serde_json::from_str(&ran.out).unwrap();
    let reason = found["results"][0]["unpaired"]["ratio"]["not_given"].as_str().unwrap();
    assert!(reason.contains("ranges too wide for a middle to stand for them"), "{reason}");
}

/// Ratio, lower and upper one-sided 95 % limit, confidence of a fall.
const WELCH: [f64; 4] = [0.571853371522472, 0.421222101700223, 0.776351186705656, 0.996876782243847];
const PAIRED: [f64; 4] = [0.571853371522472, 0.463942563704718, 0.704863713969889, 0.999270944973461];
