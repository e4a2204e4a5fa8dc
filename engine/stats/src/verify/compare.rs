//! Holds an answer against what is expected.

use serde::Deserialize;
use serde_json::Value;

/// What counts as agreement: either bound suffices.
#[derive(Debug, Clone, Copy, Deserialize, Default, PartialEq)]
pub(super) struct Tolerance {
    #[serde(default)]
    pub relative: f64,
    #[serde(default)]
    pub absolute: f64,
}

/// One compared number.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Compared {
    /// Where in the expected value it stands: `restricted.sd_between`, empty for a bare number.
    pub name: String,
    pub expected: f64,
    /// Not a number where no figure was given.
    pub got: f64,
    pub relative_error: f64,
    /// The error as a multiple of what is allowed.
    pub strain: f64,
}

/// Every number of `expected` held against the one in the same place of `got`.
pub(super) fn compare(expected: &Value, got: &Value, tolerance: Tolerance) -> Vec<Compared> {
    let mut all = Vec::new();
    walk(String::new(), expected, Some(got), tolerance, &mut all);
    all
}

fn walk(name: String, expected: &Value, got: Option<&Value>, tolerance: Tolerance, all: &mut Vec<Compared>) {
    match expected {
        Value::Object(map) => {
            for (key, value) in map {
                walk(joined(&name, key), value, got.and_then(|g| g.get(key)), tolerance, all);
            }
        }
        Value::Array(list) => {
            for (i, value) in list.iter().enumerate() {
                walk(joined(&name, &i.to_string()), value, got.and_then(|g| g.get(i)), tolerance, all);
            }
        }
        Value::Number(number) => {
            let expected = number.as_f64().unwrap_or(f64::NAN);
            all.push(number_against(name, expected, got.and_then(as_number), tolerance));
        }
        Value::Bool(flag) => {
            let expected = f64::from(u8::from(*flag));
            all.push(number_against(name, expected, got.and_then(as_number), tolerance));
        }
        Value::Null => all.push(absence(name, got.and_then(as_number))),
        Value::String(_) => {}
    }
}

fn joined(name: &str, key: &str) -> String {
    if name.is_empty() { key.to_string() } else { format!("{name}.{key}") }
}

fn as_number(value: &Value) -> Option<f64> {
    value.as_f64().or_else(|| value.as_bool().map(|b| f64::from(u8::from(b))))
}

fn number_against(name: String, expected: f64, got: Option<f64>, tolerance: Tolerance) -> Compared {
    let Some(got) = got else {
        return Compared {
            name,
            expected,
            got: f64::NAN,
            relative_error: f64::INFINITY,
            strain: f64::INFINITY,
        };
    };
    let error = (got - expected).abs();
    let relative_error = if expected == 0.0 { error } else { error / expected.abs() };
    let allowed = (tolerance.relative * expected.abs()).max(tolerance.absolute);
    let strain = if error == 0.0 { 0.0 } else { error / allowed };
    Compared { name, expected, got, relative_error, strain }
}

/// No figure was expected.
fn absence(name: String, got: Option<f64>) -> Compared {
    let strain = if got.is_some() { f64::INFINITY } else { 0.0 };
    Compared { name, expected: f64::NAN, got: got.unwrap_or(f64::NAN), relative_error: strain, strain }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    const HALF: Tolerance = Tolerance { relative: 0.0, absolute: 0.5 };

    #[test]
    fn a_missing_answer_strains_without_end() {
        assert_eq!(compare(&json!({"a": 1.0}), &json!({"b": 1.0}), HALF)[0].strain, f64::INFINITY);
        assert_eq!(compare(&json!(1.0), &Value::Null, HALF)[0].strain, f64::INFINITY);
    }

    #[test]
    fn an_answer_where_none_is_expected_strains_without_end() {
        assert_eq!(compare(&json!({"a": null}), &json!({"a": 3.0}), HALF)[0].strain, f64::INFINITY);
        assert_eq!(compare(&json!({"a": null}), &json!({}), HALF)[0].strain, 0.0);
    }

    #[test]
    fn nested_numbers_are_compared_in_their_place() {
        let all =
            compare(&json!({"a": [1.0, {"b": 2.0}], "note": "x"}), &json!({"a": [1.25, {"b": 3.0}]}), HALF);
        assert_eq!(
            all.iter().map(|c| (c.name.as_str(), c.strain)).collect::<Vec<_>>(),
            [("a.0", 0.5), ("a.1.b", 2.0)]
        );
    }
}
