//! The figures of an assessment by their places in it, and how those of two assessments compare.

use serde_json::Value;
use std::collections::BTreeMap;

/// A figure: its unit, and its numbers by name; none where it is not given.
pub type Figure = (String, BTreeMap<String, f64>);

/// Every figure of the shifts and groups by its place, as `groups/0/profile/gm`.
pub fn figures(assessment: &Value) -> BTreeMap<String, Figure> {
    let mut found = BTreeMap::new();
    for part in ["shifts", "groups"] {
        gather(&assessment[part], part, &mut found);
    }
    assert!(!found.is_empty(), "an assessment has figures");
    found
}

fn gather(value: &Value, place: &str, found: &mut BTreeMap<String, Figure>) {
    match value {
        Value::Object(object) if object.contains_key("unit") || object.contains_key("not_given") => {
            let numbers = object.iter().filter(|(name, _)| *name != "confidence");
            let numbers = numbers.filter_map(|(name, value)| Some((name.clone(), value.as_f64()?)));
            let unit = object.get("unit").and_then(Value::as_str).unwrap_or("").to_owned();
            found.insert(place.to_owned(), (unit, numbers.collect()));
        }
        Value::Object(object) => {
            object.iter().for_each(|(key, value)| gather(value, &format!("{place}/{key}"), found))
        }
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, item)| gather(item, &format!("{place}/{at}"), found))
        }
        _ => {}
    }
}

/// Asserts that two assessments have the same figures, those of the first times `factor(place, unit)`; one that is
/// no number leaves a figure uncompared.
pub fn assert_multiplied(first: &Value, second: &Value, factor: impl Fn(&str, &str) -> f64) {
    let (first, second) = (figures(first), figures(second));
    assert!(first.keys().eq(second.keys()), "other figures are given");
    for ((place, (unit, one)), (_, (own, other))) in first.iter().zip(&second) {
        assert!(unit == own && one.keys().eq(other.keys()), "{place}: {one:?} {unit}, {other:?} {own}");
        for ((name, one), other) in one.iter().zip(other.values()) {
            let wanted = one * factor(place, unit);
            let close = (wanted - other).abs() <= TOLERANCE * wanted.abs().max(1e-6);
            assert!(close || wanted.is_nan(), "{place} {name}: {one} should become {wanted}, and is {other}");
        }
    }
}

/// What an iteration may stop short of.
const TOLERANCE: f64 = 1e-7;

/// What is said of the groups by each rule.
pub fn verdicts(assessment: &Value) -> Vec<(String, String)> {
    let of_group = |group: &Value| group["verdicts"].as_array().unwrap().clone();
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let all = assessment["groups"].as_array().unwrap().iter().flat_map(of_group);
    all.map(|verdict| (text(&verdict["rule"]), text(&verdict["verdict"]))).collect()
}

/// The shifts and groups without the working of their figures: places in files move with the rows.
pub fn without_working(assessment: &Value) -> Value {
    let mut kept = serde_json::json!({"shifts": assessment["shifts"], "groups": assessment["groups"]});
    take_working(&mut kept);
    kept
}

fn take_working(value: &mut Value) {
    match value {
        Value::Object(object) => {
            object.shift_remove("trail");
            object.values_mut().for_each(take_working);
        }
        Value::Array(items) => items.iter_mut().for_each(take_working),
        _ => {}
    }
}
