//! A rule as somebody would add it, to show that one file is enough.

use super::{Facts, LooksAt, Rule, apply};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, Interval, shown};

/// A house rule: the geometric mean at most a tenth of the limit.
static RULE: Rule = Rule {
    name: "house",
    source: "house rule",
    fewest: 2,
    most: None,
    workers: 2,
    looks_at: LooksAt::Profile,
    criterion: Criterion::Percentile { upper: 0.95, lower: 0.95 },
    decide,
};

fn decide(facts: &Facts) -> (Verdict, String) {
    match facts.figure("gm").and_then(Figure::value) {
        Some(gm) if gm <= 0.1 * facts.limit => {
            (Verdict::Below, format!("the GM is {} {}", shown(gm), facts.unit))
        }
        Some(_) => (Verdict::Undecided, "the GM is more than a tenth of the limit".to_owned()),
        None => (Verdict::NotGiven, "there is no GM".to_owned()),
    }
}

fn facts<'a>(values: &'a [Interval], figures: &'a [(&'static str, Figure)], workers: usize) -> Facts<'a> {
    Facts { values, limit: 20.0, unit: "ppm", figures, workers, ..Facts::default() }
}

#[test]
fn a_rule_of_ones_own_is_one_value() {
    let values: Vec<Interval> = [1.0, 2.0].iter().filter_map(|&x| Interval::new(x, x)).collect();
    let gm = [("gm", Figure::without_interval(1.414, "ppm", "", ""))];
    let said = apply(&RULE, &facts(&values, &gm, 2));
    assert_eq!(
        (said.rule, said.verdict, said.because.as_str()),
        ("house", Verdict::Below, "the GM is 1.414 ppm")
    );
    assert_eq!(said.source, "house rule");
}

#[test]
fn what_a_rule_needs_is_asked_before_it_decides() {
    let values: Vec<Interval> = [1.0, 2.0].iter().filter_map(|&x| Interval::new(x, x)).collect();
    let few = apply(&RULE, &facts(&values, &[], 1));
    assert_eq!(few.because, "needs shifts of 2 workers or more, there are 1");
    let few = apply(&RULE, &facts(&values[..1], &[], 2));
    assert_eq!(
        (few.verdict, few.because.as_str()),
        (Verdict::NotGiven, "needs 2 shifts with a figure, there are 1")
    );
}
