//! A rule as somebody would add it, to show that one file is enough.

use super::{Facts, LooksAt, Rule, apply};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, Interval, shown};

/// A house rule: the geometric mean at most a tenth of the limit.
const RULE: Rule = Rule {
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

/// One shift more than a rule is meant for, and as many as it is meant for.
#[test]
fn a_rule_for_few_shifts_decides_up_to_its_most() {
    let rule = Rule { most: Some(2), workers: 1, ..RULE };
    let values: Vec<Interval> = [1.0, 2.0, 3.0].iter().filter_map(|&x| Interval::new(x, x)).collect();
    let gm = [("gm", Figure::without_interval(1.414, "ppm", "", ""))];
    assert_eq!(apply(&rule, &facts(&values[..2], &gm, 1)).verdict, Verdict::Below);
    let many = apply(&rule, &facts(&values, &gm, 1));
    assert_eq!(
        (many.verdict, many.because.as_str()),
        (Verdict::NotGiven, "meant for 2 to 2 shifts, there are 3")
    );
}

/// The long-term mean with its limits against 20 ppm: at the limit itself nothing is decided.
#[test]
fn a_figure_whose_limit_is_the_threshold_itself_is_undecided() {
    let values: Vec<Interval> = [1.0, 2.0, 3.0].iter().filter_map(|&x| Interval::new(x, x)).collect();
    let verdict = |low: f64, high: f64| {
        let mean = [("mean", Figure::estimate(20.0, (Some(low), Some(high)), 0.95, "ppm", "", None))];
        let said = super::verdicts(["mean"].into_iter(), &facts(&values, &mean, 1));
        (said[0].verdict, said[0].because.clone())
    };
    let below = "the 95 % upper limit of the long-term mean is 19 ppm, below 20 ppm".to_owned();
    let above = "the 95 % lower limit of the long-term mean is 21 ppm, above 20 ppm".to_owned();
    assert_eq!(verdict(10.0, 19.0), (Verdict::Below, below));
    assert_eq!(verdict(21.0, 30.0), (Verdict::Above, above));
    assert_eq!([verdict(10.0, 20.0).0, verdict(20.0, 30.0).0], [Verdict::Undecided; 2]);
}
