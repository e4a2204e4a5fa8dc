//! The 95th percentile by rank, for a distribution of any shape.

use super::{Facts, LooksAt, Rule, Words, by_limits};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, brief_beside, shown};

/// The smallest ranked value that lies above the 95th percentile with 95 % confidence below the limit is below; the largest that lies below it with
/// 95 % confidence above the limit is above. The first needs 59 shifts.
pub static RULE: Rule = Rule {
    name: "nonparametric",
    source: "Hahn-Meeker-1991",
    fewest: 59,
    most: None,
    workers: 1,
    looks_at: LooksAt::Profile,
    criterion: Criterion::ByRank { confidence: 0.95 },
    decide,
};

fn decide(facts: &Facts) -> (Verdict, String) {
    let figure = facts.figure("p95_by_rank");
    let show = |x: f64, limit: f64| format!("{} {}", brief_beside(x, limit), facts.unit);
    let entered = |limit: f64| format!("{} {}", shown(limit), facts.unit);
    let words = Words {
        what: "the 95th percentile by rank",
        upper: "95 % upper limit",
        show: &show,
        show_threshold: &entered,
    };
    by_limits(figure, figure.and_then(Figure::high), facts.limit, &words)
}
