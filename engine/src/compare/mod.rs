//! The shift figures of two groups, or of one before and after a control, on the scale of their logarithms.

use crate::model::comparison::Ratio;
use crate::model::{Figure, Input, Step, shown};
use fullshift_stats::comparison::{Difference, paired, unpaired};
use std::collections::BTreeMap;

/// One-sided confidence of the limits.
const CONFIDENCE: f64 = 0.95;

/// Fewest workers who must be in both for a comparison within them (our judgement: with two there is one degree of freedom).
const FEWEST_PAIRS: usize = 3;

/// Shift figures, each with its worker, or why they cannot be compared.
pub type Points = Result<Vec<(String, f64)>, String>;

/// The second over the first, every shift counting alike: Welch's comparison, since a control changes the spread as well as the level.
pub fn across(first: &Points, second: &Points) -> Ratio {
    let (first, second) = match (first, second) {
        (Ok(first), Ok(second)) => (first, second),
        (Err(reason), _) | (_, Err(reason)) => return refused(reason),
    };
    let logs = |points: &[(String, f64)]| points.iter().map(|(_, x)| x.ln()).collect::<Vec<f64>>();
    let mut notes = Vec::new();
    if repeated(first) || repeated(second) {
        notes.push("some workers have several shifts, which are alike; limits that take them for independent are too narrow".to_owned());
    }
    let step = step(
        "ratio = exp(mean ln second - mean ln first); limits by Welch",
        first.len(),
        second.len(),
        "Welch-1947",
    );
    match unpaired(&logs(first), &logs(second)) {
        Ok(found) => ratio(&found, "ratio of the geometric means; Welch's limits", step, notes),
        Err(error) => refused(&error.to_string()),
    }
}

/// The second over the first within each worker who is in both: the mean of the differences of the workers' own means.
pub fn within(first: &Points, second: &Points) -> Ratio {
    let (first, second) = match (first, second) {
        (Ok(first), Ok(second)) => (means(first), means(second)),
        (Err(reason), _) | (_, Err(reason)) => return refused(reason),
    };
    let differences: Vec<f64> =
        first.iter().filter_map(|(worker, before)| Some(second.get(worker)? - before)).collect();
    let pairs = differences.len();
    if pairs < FEWEST_PAIRS {
        return refused(&format!(
            "{pairs} workers are in both; a comparison within workers needs {FEWEST_PAIRS}"
        ));
    }
    let left_out = first.len() + second.len() - 2 * pairs;
    let notes = (left_out > 0).then(|| format!("{left_out} workers who are in one only are left out"));
    let step = step(
        "ratio = exp(mean of each worker's mean ln second - mean ln first); limits by Student",
        pairs,
        pairs,
        "Student-1908",
    );
    match paired(&differences) {
        Ok(found) => {
            let method = format!("ratio within {pairs} workers; Student's limits");
            ratio(&found, &method, step, notes.into_iter().collect())
        }
        Err(error) => refused(&error.to_string()),
    }
}

fn means(points: &[(String, f64)]) -> BTreeMap<&str, f64> {
    let mut of_worker: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
    for (worker, value) in points {
        let (sum, n) = of_worker.entry(worker).or_default();
        *sum += value.ln();
        *n += 1.0;
    }
    of_worker.into_iter().map(|(worker, (sum, n))| (worker, sum / n)).collect()
}

fn repeated(points: &[(String, f64)]) -> bool {
    means(points).len() < points.len()
}

fn step(formula: &str, first: usize, second: usize, source: &'static str) -> Step {
    Step {
        name: "ratio of geometric means".to_owned(),
        formula: formula.to_owned(),
        inputs: vec![Input::new("n first", first, "first"), Input::new("n second", second, "second")],
        result: String::new(),
        source,
    }
}

fn ratio(found: &Difference, method: &str, mut step: Step, notes: Vec<String>) -> Ratio {
    step.inputs.extend([
        Input::new("difference", shown(found.value), "logarithms"),
        Input::new("standard error", shown(found.error), "logarithms"),
        Input::new("degrees of freedom", shown(found.df), "logarithms"),
    ]);
    let end = |limit: fullshift_stats::Result<f64>| limit.ok().map(f64::exp).filter(|x| x.is_finite());
    let ends = (end(found.lower(CONFIDENCE)), end(found.upper(CONFIDENCE)));
    let open = (ends.0.is_none() || ends.1.is_none()).then(|| "no number can hold the open end".to_owned());
    let figure =
        Figure::estimate(found.value.exp(), ends, CONFIDENCE, "", method, open).with_trail(vec![step]);
    let reason = "a confidence is itself the statement of uncertainty";
    let confidence = match found.confidence_below_zero() {
        Ok(confidence) => Figure::without_interval(
            confidence,
            "",
            "one minus the one-sided p-value of the test that there is no fall",
            reason,
        ),
        Err(error) => Figure::not_given(error.to_string()),
    };
    Ratio { ratio: figure, confidence_of_fall: confidence, notes }
}

fn refused(reason: &str) -> Ratio {
    Ratio {
        ratio: Figure::not_given(reason),
        confidence_of_fall: Figure::not_given(reason),
        notes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(list: &[(&str, f64)]) -> Points {
        Ok(list.iter().map(|(worker, x)| ((*worker).to_owned(), *x)).collect())
    }

    /// W1 1 and 4 (mean of logs ln 2) to 1, W2 8 to 2, W3 9 to 3: ratios 1/2, 1/4, 1/3; their geometric mean is 24^(-1/3).
    #[test]
    fn within_workers_the_ratio_is_the_geometric_mean_of_their_own() {
        let before = points(&[("W1", 1.0), ("W1", 4.0), ("W2", 8.0), ("W3", 9.0), ("W9", 50.0)]);
        let after = points(&[("W1", 1.0), ("W2", 2.0), ("W3", 3.0)]);
        let found = within(&before, &after);
        assert!((found.ratio.value().unwrap() - 24f64.powf(-1.0 / 3.0)).abs() < 1e-12);
        assert_eq!(found.notes, ["1 workers who are in one only are left out"]);
    }

    #[test]
    fn two_workers_in_both_are_too_few() {
        let side = points(&[("W1", 1.0), ("W2", 2.0)]);
        assert!(within(&side, &side).ratio.reason().unwrap().starts_with("2 workers are in both"));
    }
}
