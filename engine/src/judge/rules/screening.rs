//! The preliminary test of a few results.

use super::{Facts, LooksAt, Rule};
use crate::model::profile::Verdict;
use crate::model::{Criterion, brief};

/// With 3, 4 or 5 results: all below 0.1, 0.15 or 0.2 of the limit is below; any above the limit is above.
pub static RULE: Rule = Rule {
    name: "screening",
    source: "EN-689",
    fewest: 3,
    most: Some(5),
    workers: 1,
    looks_at: LooksAt::Profile,
    criterion: Criterion::AllBelow(&SHARES),
    decide,
};

/// Numbers of results with the share of the limit below which all of them must lie.
static SHARES: [(usize, f64); 3] = [(3, 0.1), (4, 0.15), (5, 0.2)];

fn decide(facts: &Facts) -> (Verdict, String) {
    let n = facts.values.len();
    let share = SHARES.iter().find(|(count, _)| *count == n).map_or(0.0, |(_, share)| *share);
    let above = facts.values.iter().filter(|v| v.low() > facts.limit).count();
    let highest = facts.values.iter().map(|v| v.high()).fold(0.0, f64::max) / facts.limit;
    match above {
        0 if highest < share => (
            Verdict::Below,
            format!("all {n} results lie below {share} of the limit (highest {})", brief(highest)),
        ),
        0 => (
            Verdict::Undecided,
            format!("not all {n} results lie below {share} of the limit (highest {})", brief(highest)),
        ),
        1 => (Verdict::Above, "1 result lies above the limit".to_owned()),
        _ => (Verdict::Above, format!("{above} results lie above the limit")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Interval;

    fn verdict(values: &[f64]) -> Verdict {
        let values: Vec<Interval> = values.iter().filter_map(|&x| Interval::new(x, x)).collect();
        decide(&Facts { values: &values, limit: 20.0, unit: "ppm", ..Facts::default() }).0
    }

    /// EN 689:2018, 5.5.2: the shares for 3, 4 and 5 results.
    #[test]
    fn the_share_grows_with_the_number_of_results() {
        assert_eq!(verdict(&[1.0, 1.5, 1.9]), Verdict::Below);
        assert_eq!(verdict(&[1.0, 1.5, 2.1]), Verdict::Undecided);
        assert_eq!(verdict(&[1.0, 1.5, 2.1, 2.9]), Verdict::Below);
        assert_eq!(verdict(&[1.0, 1.5, 2.1, 2.9, 3.9]), Verdict::Below);
        assert_eq!(verdict(&[1.0, 1.5, 2.1, 2.9, 4.1]), Verdict::Undecided);
        assert_eq!(verdict(&[1.0, 1.5, 20.1]), Verdict::Above);
        assert_eq!(verdict(&[1.0, 1.5, 20.0]), Verdict::Undecided);
    }

    #[test]
    fn results_above_the_limit_are_counted() {
        let said = |values: &[f64]| {
            let values: Vec<Interval> = values.iter().filter_map(|&x| Interval::new(x, x)).collect();
            decide(&Facts { values: &values, limit: 20.0, unit: "ppm", ..Facts::default() }).1
        };
        assert_eq!(said(&[1.0, 21.0, 20.0]), "1 result lies above the limit");
        assert_eq!(said(&[22.0, 21.0, 20.0]), "2 results lie above the limit");
    }

    /// Cases of EN 689:2018, 5.5.2 (the rule recalled, the cases made): results as shares of the limit; the border itself is not below.
    #[test]
    fn the_preliminary_test_of_the_standard_on_cases_at_its_borders() {
        for (shares, expected) in [
            (&[0.099, 0.05, 0.02][..], Verdict::Below),
            (&[0.1, 0.05, 0.02], Verdict::Undecided),
            (&[0.149, 0.1, 0.1, 0.1], Verdict::Below),
            (&[0.19, 0.1, 0.1, 0.1], Verdict::Undecided),
            (&[0.19, 0.1, 0.1, 0.1, 0.1], Verdict::Below),
            (&[0.3, 1.01, 0.1], Verdict::Above),
        ] {
            let results: Vec<f64> = shares.iter().map(|share| share * 20.0).collect();
            assert_eq!(verdict(&results), expected, "{shares:?}");
        }
    }
}
