//! One table: read, run, summed up.

use super::compare::{Compared, Tolerance, compare};
use super::{Inputs, registry};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

#[derive(Debug, Deserialize)]
struct Table {
    id: String,
    title: String,
    function: String,
    source: String,
    provenance: String,
    tolerance: Tolerance,
    rows: Vec<Row>,
}

#[derive(Debug, Deserialize)]
struct Row {
    inputs: Map<String, Value>,
    expected: Value,
    #[serde(default)]
    tolerance: Option<Tolerance>,
}

/// What a table showed on this machine.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TableResult {
    /// The name of the table's file.
    pub id: String,
    /// What the table holds, in words.
    pub title: String,
    /// Where its values come from.
    pub source: String,
    /// How they came from there.
    pub provenance: String,
    /// The number of rows.
    pub rows: usize,
    /// The number of numbers compared.
    pub values: usize,
    /// The largest relative error (absolute where zero is expected).
    pub peak_relative_error: f64,
    /// The mean relative error.
    pub mean_relative_error: f64,
    /// Digits to which every value agrees, at most 16.
    pub agreed_digits: u32,
    /// How many numbers lie outside the tolerance.
    pub outside: usize,
    /// The number that came nearest to its tolerance, or passed it furthest.
    pub worst: Option<WorstRow>,
    /// Why the table could not be run, if so.
    pub reason: Option<String>,
    /// Whether every number lies within its tolerance.
    pub passed: bool,
}

/// The row that strained its tolerance most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorstRow {
    /// Its inputs, as JSON; cut when long.
    pub inputs: String,
    /// Which of its values; empty for a bare number.
    pub value: String,
    /// What was expected.
    pub expected: f64,
    /// What was computed; absent where there was no figure.
    pub got: Option<f64>,
    /// The error over what is allowed: above 1 it fails.
    pub strain: f64,
    /// What the function said instead of a figure, if so.
    pub reason: Option<String>,
}

pub(super) fn run(text: &str) -> TableResult {
    let table: Table = match serde_json::from_str(text) {
        Ok(table) => table,
        Err(error) => return unreadable(&error.to_string()),
    };
    let mut result = empty(&table);
    let Some(function) = registry::function(&table.function) else {
        result.reason = Some(format!("no function is called {}", table.function));
        return result;
    };
    let mut sum = 0.0;
    for row in &table.rows {
        let answer = function(&Inputs(&row.inputs));
        let reason = answer.as_ref().err().map(ToString::to_string);
        let got = answer.unwrap_or(Value::Null);
        for compared in compare(&row.expected, &got, row.tolerance.unwrap_or(table.tolerance)) {
            sum += compared.relative_error;
            take(&mut result, row, compared, reason.as_deref());
        }
    }
    result.mean_relative_error = sum / result.values.max(1) as f64;
    result.agreed_digits = digits(result.peak_relative_error);
    result.passed = result.outside == 0 && result.values > 0;
    result
}

fn take(result: &mut TableResult, row: &Row, compared: Compared, reason: Option<&str>) {
    result.values += 1;
    result.peak_relative_error = result.peak_relative_error.max(compared.relative_error);
    if compared.strain.is_nan() || compared.strain > 1.0 {
        result.outside += 1;
    }
    let strained = result.worst.as_ref().is_none_or(|w| compared.strain > w.strain);
    if strained {
        result.worst = Some(WorstRow {
            inputs: shortened(&row.inputs),
            value: compared.name,
            expected: compared.expected,
            got: (!compared.got.is_nan()).then_some(compared.got),
            strain: compared.strain,
            reason: reason.map(str::to_string),
        });
    }
}

/// The inputs as one line of JSON, not longer than 200 characters.
fn shortened(inputs: &Map<String, Value>) -> String {
    let text = Value::Object(inputs.clone()).to_string();
    if text.chars().count() <= 200 { text } else { text.chars().take(197).collect::<String>() + "..." }
}

fn digits(error: f64) -> u32 {
    if error.is_finite() { (-error.max(1e-16).log10()).floor().clamp(0.0, 16.0) as u32 } else { 0 }
}

fn empty(table: &Table) -> TableResult {
    TableResult {
        id: table.id.clone(),
        title: table.title.clone(),
        source: table.source.clone(),
        provenance: table.provenance.clone(),
        rows: table.rows.len(),
        values: 0,
        peak_relative_error: 0.0,
        mean_relative_error: 0.0,
        agreed_digits: 0,
        outside: 0,
        worst: None,
        reason: None,
        passed: false,
    }
}

fn unreadable(why: &str) -> TableResult {
    let blank = Table {
        id: "unreadable".to_string(),
        title: String::new(),
        function: String::new(),
        source: String::new(),
        provenance: String::new(),
        tolerance: Tolerance::default(),
        rows: Vec::new(),
    };
    TableResult { reason: Some(why.to_string()), ..empty(&blank) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(expected: &str) -> String {
        format!(
            r#"{{"id": "t", "title": "", "function": "normal_tails", "source": "", "provenance": "", "tolerance": {{"absolute": 0.0005}},
                "rows": [{{"inputs": {{"x": 0}}, "expected": {{"lower": {expected}}}}}]}}"#
        )
    }

    #[test]
    fn a_wrong_value_fails_and_is_shown_as_the_worst_row() {
        let result = run(&table("0.501"));
        assert!(!result.passed && result.outside == 1);
        let worst = result.worst.unwrap();
        assert_eq!((worst.expected, worst.got, worst.value.as_str()), (0.501, Some(0.5), "lower"));
        assert_eq!(worst.inputs, r#"{"x":0}"#);
    }

    #[test]
    fn a_right_value_passes() {
        assert!(run(&table("0.5")).passed);
    }

    #[test]
    fn a_table_without_values_an_unknown_function_and_bad_text_do_not_pass() {
        assert!(!run(&table("\"half\"")).passed);
        assert!(!run(&table("0.5").replace("normal_tails", "nothing")).passed);
        assert!(run("{").reason.is_some());
    }
}
