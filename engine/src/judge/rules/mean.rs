//! The long-term mean.

use super::{Facts, LooksAt, Rule, Words, by_limits};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, brief_beside, shown};

/// Land's 95 % upper limit of the mean below the limit is below; his lower limit above is above.
pub static RULE: Rule = Rule {
    name: "mean",
    source: "Land-1971",
    fewest: 3,
    most: None,
    workers: 1,
    looks_at: LooksAt::Profile,
    criterion: Criterion::Mean { confidence: 0.95 },
    decide,
};

fn decide(facts: &Facts) -> (Verdict, String) {
    let figure = facts.figure("mean");
    let show = |x: f64, limit: f64| facts.amount(brief_beside(x, limit));
    let entered = |limit: f64| facts.amount(shown(limit));
    let words = Words {
        what: "the long-term mean",
        upper: "95 % upper limit",
        show: &show,
        show_threshold: &entered,
    };
    by_limits(figure, figure.and_then(Figure::high), facts.limit, &words)
}
