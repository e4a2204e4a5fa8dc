//! The long-term mean.

use super::{Facts, Rule, Words, by_limits};
use crate::model::Figure;
use crate::model::brief;
use crate::model::profile::Verdict;

/// Land's 95 % upper limit of the mean below the limit is below; his lower limit above is above.
pub static RULE: Rule = Rule { name: "mean", source: "Land-1971", fewest: 3, most: None, decide };

fn decide(facts: &Facts) -> (Verdict, String) {
    let figure = facts.figure("mean");
    let show = |x: f64| format!("{} {}", brief(x), facts.unit);
    let words = Words { what: "the long-term mean", upper: "95 % upper limit", show: &show };
    by_limits(figure, figure.and_then(Figure::high), facts.limit, &words)
}
