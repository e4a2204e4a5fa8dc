//! Tolerance limits of the 95th percentile.

use super::{Facts, LooksAt, Rule, Words, by_limits};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, brief_beside, shown};

/// The 70 % upper limit of the 95th percentile below the limit is below; its 95 % lower limit above is above.
pub static RULE: Rule = Rule {
    name: "tolerance",
    source: "EN-689",
    fewest: 6,
    most: None,
    workers: 1,
    looks_at: LooksAt::Profile,
    criterion: Criterion::Percentile { upper: 0.7, lower: 0.95 },
    decide: with_70,
};

/// The same with the 95 % upper limit.
pub static STRICT: Rule = Rule {
    name: "tolerance-strict",
    source: "common practice, no source",
    fewest: 6,
    most: None,
    workers: 1,
    looks_at: LooksAt::Profile,
    criterion: Criterion::Percentile { upper: 0.95, lower: 0.95 },
    decide: with_95,
};

fn with_70(facts: &Facts) -> (Verdict, String) {
    let upper = match facts.figure("p95") {
        Some(Figure::Given(estimate)) => estimate.further.get("upper_70").copied(),
        _ => None,
    };
    decide(facts, upper, "70 % upper limit")
}

fn with_95(facts: &Facts) -> (Verdict, String) {
    decide(facts, facts.figure("p95").and_then(Figure::high), "95 % upper limit")
}

fn decide(facts: &Facts, upper: Option<f64>, name: &'static str) -> (Verdict, String) {
    let show = |x: f64, limit: f64| facts.amount(brief_beside(x, limit));
    let entered = |limit: f64| facts.amount(shown(limit));
    let words = Words { what: "the 95th percentile", upper: name, show: &show, show_threshold: &entered };
    match by_limits(facts.figure("p95"), upper, facts.limit, &words) {
        (Verdict::Undecided, because) => (Verdict::Undecided, format!("the test is not passed: {because}")),
        decided => decided,
    }
}
