//! Columns of a table from the fields of its rows.

use crate::model::Figure;
use crate::model::assessment::RuleResult;
use polars::prelude::{Column, NamedFrom, Series};
use std::borrow::Cow;

/// A column of texts, none of which a spreadsheet would run.
pub fn texts<'a, T>(name: &str, rows: &'a [T], field: impl Fn(&'a T) -> &'a str) -> Column {
    let cells: Vec<Cow<'a, str>> = rows.iter().map(|row| harmless(field(row))).collect();
    Series::new(name.into(), cells.iter().map(AsRef::as_ref).collect::<Vec<&str>>()).into()
}

/// A text that a spreadsheet takes as text: one that begins as a formula does gets an apostrophe before it. A number stays
/// a number.
fn harmless(text: &str) -> Cow<'_, str> {
    match text.starts_with(['=', '+', '-', '@', '\t', '\r']) && text.parse::<f64>().is_err() {
        true => Cow::Owned(format!("'{text}")),
        false => Cow::Borrowed(text),
    }
}

/// A column of names, several in a cell joined by ` + `.
pub fn joined<T>(name: &str, rows: &[T], field: impl Fn(&T) -> &[&'static str]) -> Column {
    let cells: Vec<String> = rows.iter().map(|row| field(row).join(" + ")).collect();
    Series::new(name.into(), cells).into()
}

/// A column of numbers, empty where there is none.
pub fn numbers<T>(name: &str, rows: &[T], field: impl Fn(&T) -> Option<f64>) -> Column {
    Series::new(name.into(), rows.iter().map(field).collect::<Vec<Option<f64>>>()).into()
}

/// A column of counts.
pub fn counts<T>(name: &str, rows: &[T], field: impl Fn(&T) -> usize) -> Column {
    Series::new(name.into(), rows.iter().map(|r| field(r) as u64).collect::<Vec<u64>>()).into()
}

/// The columns of a figure: its value, its ends, and why it or its interval is not given.
pub fn figure<'a, T>(name: &str, rows: &'a [T], field: impl Fn(&'a T) -> Option<&'a Figure>) -> Vec<Column> {
    let figures: Vec<Option<&Figure>> = rows.iter().map(field).collect();
    let reason = |f: &Option<&'a Figure>| match f {
        Some(Figure::Given(e)) => e.no_interval.as_deref().unwrap_or(""),
        Some(other) => other.reason().unwrap_or(""),
        None => "",
    };
    vec![
        numbers(name, &figures, |f| f.and_then(Figure::value)),
        numbers(&format!("{name}_low"), &figures, |f| f.and_then(Figure::low)),
        numbers(&format!("{name}_high"), &figures, |f| f.and_then(Figure::high)),
        texts(&format!("{name}_not_given"), &figures, reason),
    ]
}

/// The 70 % upper limit of the 95th percentile.
pub fn upper_70<'a, T>(rows: &'a [T], p95: impl Fn(&'a T) -> Option<&'a Figure>) -> Column {
    let figures: Vec<Option<&Figure>> = rows.iter().map(p95).collect();
    numbers("p95_upper_70", &figures, |figure| match figure {
        Some(Figure::Given(estimate)) => estimate.further.get("upper_70").copied(),
        _ => None,
    })
}

/// A column for each rule, with its verdict.
pub fn verdicts<'a, T>(rows: &'a [T], of: impl Fn(&'a T) -> &'a [RuleResult]) -> Vec<Column> {
    let said = |row, rule: &str| of(row).iter().find(|v| v.rule == rule).map_or("", |v| v.verdict.word());
    let rules = names(rows, |row| of(row).iter().map(|v| v.rule.to_owned()).collect());
    let column =
        |rule: &String| texts(&format!("rule_{}", rule.replace('-', "_")), rows, |row| said(row, rule));
    rules.iter().map(column).collect()
}

/// The names that occur in any row, in the order in which they first do.
pub fn names<'a, T>(rows: &'a [T], of: impl Fn(&'a T) -> Vec<String>) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for name in rows.iter().flat_map(of) {
        if !list.contains(&name) {
            list.push(name);
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_that_a_spreadsheet_would_run_is_made_a_text() {
        for (text, cell) in [
            ("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0"),
            ("+1+1", "'+1+1"),
            ("-2+3", "'-2+3"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("-3.5", "-3.5"),
            ("+4", "+4"),
            ("<5", "<5"),
            ("W1", "W1"),
        ] {
            assert_eq!(harmless(text), cell);
        }
    }
}
