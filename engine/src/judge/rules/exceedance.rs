//! The share of shifts above the limit.

use super::{Facts, LooksAt, Rule, Words, by_limits};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, brief_beside, shown};

/// Largest share of shifts above the limit that counts as below.
const TOLERATED: f64 = 0.05;

/// The 95 % upper limit of the share of shifts above the limit below 5 % is below; its lower limit above 5 % is above.
pub static RULE: Rule = Rule {
    name: "exceedance",
    source: "NIOSH-77-173",
    fewest: 3,
    most: None,
    workers: 1,
    looks_at: LooksAt::Profile,
    criterion: Criterion::Percentile { upper: 0.95, lower: 0.95 },
    decide,
};

fn decide(facts: &Facts) -> (Verdict, String) {
    let figure = facts.figure("exceedance");
    let show = |x: f64, limit: f64| format!("{} %", brief_beside(100.0 * x, 100.0 * limit));
    let entered = |limit: f64| format!("{} %", shown(100.0 * limit));
    let words = Words {
        what: "the share of shifts above the limit",
        upper: "95 % upper limit",
        show: &show,
        show_threshold: &entered,
    };
    by_limits(figure, figure.and_then(Figure::high), TOLERATED, &words)
}
