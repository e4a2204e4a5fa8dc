//! The workers of a group one by one.

use super::{Facts, LooksAt, Rule};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, brief, brief_beside};

/// Largest chance that a worker drawn from the group has too many shifts above the limit. The source asks for a distance of 0.84
/// standard deviations between workers, which is this chance to its two digits.
const TOLERATED: f64 = 0.2;

/// Share of the variance between workers from which on they are judged one by one.
const APPLIES_ABOVE: f64 = 0.2;

/// Fewer than one worker in five with more than 5 % of shifts above the limit is below, as estimated; a 95 % lower limit of that share above one in
/// five is above.
pub static RULE: Rule = Rule {
    name: "individual",
    source: "BOHS-NVvA",
    fewest: 4,
    most: None,
    workers: 3,
    looks_at: LooksAt::Workers,
    criterion: Criterion::Workers,
    decide,
};

fn decide(facts: &Facts) -> (Verdict, String) {
    let (over, between) = match (facts.figure("share_over"), facts.figure("share_between")) {
        (Some(Figure::Given(over)), Some(Figure::Given(between))) => (over, between.value),
        (Some(other), _) => return (Verdict::NotGiven, other.reason().unwrap_or_default().to_owned()),
        (None, _) => return (Verdict::NotGiven, "the workers were not compared".to_owned()),
    };
    let share = format!("{} % of the variance lies between workers", brief(100.0 * between));
    if between <= APPLIES_ABOVE {
        let words =
            format!("{share}, not more than a fifth: what holds for the group holds for each of them");
        return (Verdict::NotGiven, words);
    }
    let percent = |x: f64| format!("{} %", brief_beside(100.0 * x, 100.0 * TOLERATED));
    let of_workers = "of workers have more than 5 % of their shifts above the limit";
    match over.low {
        Some(low) if low > TOLERATED => {
            let low = percent(low);
            (
                Verdict::Above,
                format!("{share}; with 95 % confidence at least {low} {of_workers}, more than 20 %"),
            )
        }
        _ if over.value < TOLERATED => {
            let value = percent(over.value);
            (Verdict::Below, format!("{share}; an estimated {value} {of_workers}, fewer than 20 %"))
        }
        low => {
            let (value, low) = (percent(over.value), low.map_or("none".to_owned(), percent));
            let words =
                format!("an estimated {value} {of_workers} (95 % lower limit {low}), and 20 % lies between");
            (Verdict::Undecided, format!("{share}; {words}"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decided(over: f64, low: f64, between: f64) -> (Verdict, String) {
        let figures = [
            ("share_over", Figure::estimate(over, (Some(low), Some(0.9)), 0.95, "", "", None)),
            ("share_between", Figure::estimate(between, (Some(0.0), Some(1.0)), 0.95, "", "", None)),
        ];
        decide(&Facts { between: &figures, workers: 4, ..Facts::default() })
    }

    /// BOHS and NVvA 2011 (recalled): the chance must be less than 20 %, where more than a fifth of the variance lies between.
    #[test]
    fn one_worker_in_five_is_the_border() {
        assert_eq!(decided(0.19, 0.05, 0.5).0, Verdict::Below);
        assert_eq!(decided(0.21, 0.05, 0.5).0, Verdict::Undecided);
        assert_eq!(decided(0.5, 0.21, 0.5).0, Verdict::Above);
        assert_eq!([decided(0.2, 0.05, 0.5).0, decided(0.5, 0.2, 0.5).0], [Verdict::Undecided; 2]);
    }

    #[test]
    fn a_group_that_is_one_is_not_judged_worker_by_worker() {
        let (verdict, because) = decided(0.01, 0.0, 0.2);
        assert_eq!(verdict, Verdict::NotGiven);
        assert!(
            because.starts_with("20 % of the variance lies between workers, not more than a fifth"),
            "{because}"
        );
    }
}
