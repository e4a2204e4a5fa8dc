//! The chance that the 95th percentile lies above the limit.

use super::{Facts, LooksAt, Rule};
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, brief, brief_beside};

/// Chance that is small enough for below; its complement is large enough for above.
const SMALL: f64 = 0.05;

/// A chance below 5 % that the 95th percentile lies above the limit is below; one above 95 % is above.
pub static RULE: Rule = Rule {
    name: "posterior",
    source: "handbook, page statistics-posterior",
    fewest: 1,
    most: None,
    workers: 1,
    looks_at: LooksAt::Chances,
    criterion: Criterion::Posterior { confidence: 1.0 - SMALL },
    decide,
};

fn decide(facts: &Facts) -> (Verdict, String) {
    let chance = match facts.figure("p95_above_limit") {
        Some(Figure::Given(estimate)) => estimate.value,
        Some(other) => return (Verdict::NotGiven, other.reason().unwrap_or_default().to_owned()),
        None => return (Verdict::NotGiven, "no chance was computed".to_owned()),
    };
    let (verdict, border) = match chance {
        c if c < SMALL => (Verdict::Below, SMALL),
        c if c > 1.0 - SMALL => (Verdict::Above, 1.0 - SMALL),
        _ => (Verdict::Undecided, 0.5),
    };
    let shown = match 100.0 * chance {
        percent if percent > 0.0 && percent < 0.001 => "less than 0.001".to_owned(),
        percent if percent < 100.0 && percent > 99.9 => "more than 99.9".to_owned(),
        percent => brief_beside(percent, 100.0 * border),
    };
    let place = match verdict {
        Verdict::Below => "below 5 %",
        Verdict::Above => "above 95 %",
        _ => "between 5 and 95 %",
    };
    let beside = facts.flat.iter().find(|(name, _)| *name == "p95_above_limit");
    let beside = match beside.and_then(|(_, figure)| figure.value()) {
        Some(flat) => format!("; under the flat prior of this program {} %", brief(100.0 * flat)),
        None => String::new(),
    };
    let what = "the chance that the 95th percentile lies above the limit is";
    (verdict, format!("{what} {shown} %, {place}, under the prior {}{beside}", facts.prior))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_and_ninety_five_per_cent_are_the_borders() {
        for (chance, verdict) in [
            (0.04, Verdict::Below),
            (0.05, Verdict::Undecided),
            (0.95, Verdict::Undecided),
            (0.96, Verdict::Above),
        ] {
            let figures = [("p95_above_limit", Figure::without_interval(chance, "", "", ""))];
            assert_eq!(decide(&Facts { chances: &figures, ..Facts::default() }).0, verdict, "{chance}");
        }
    }

    #[test]
    fn a_chance_is_told_with_its_place_and_never_as_certain() {
        let said = |chance: f64| {
            let figures = [("p95_above_limit", Figure::without_interval(chance, "", "", ""))];
            decide(&Facts { chances: &figures, ..Facts::default() }).1
        };
        for (chance, words) in [
            (0.000_001, "is less than 0.001 %, below 5 %"),
            (0.000_01, "is 0.001 %, below 5 %"),
            (0.01, "is 1 %, below 5 %"),
            (0.5, "is 50 %, between 5 and 95 %"),
            (0.98, "is 98 %, above 95 %"),
            (0.999_5, "is more than 99.9 %, above 95 %"),
        ] {
            assert!(said(chance).contains(words), "{chance}: {}", said(chance));
        }
    }

    /// Near its border a chance has the digits that show on which side it lies.
    #[test]
    fn a_chance_beside_its_border_is_told_apart_from_it() {
        for (chance, words) in [
            (0.049_96, "is 4.996 %, below 5 %"),
            (0.950_4, "is 95.04 %, above 95 %"),
            (0.951, "is 95.1 %, above 95 %"),
        ] {
            let figures = [("p95_above_limit", Figure::without_interval(chance, "", "", ""))];
            let said = decide(&Facts { chances: &figures, ..Facts::default() }).1;
            assert!(said.contains(words), "{chance}: {said}");
        }
    }

    #[test]
    fn the_chance_under_the_programs_own_prior_stands_beside() {
        let figure = |name, chance| (name, Figure::without_interval(chance, "", "", ""));
        let (own, flat) =
            ([figure("p95_above_limit", 0.01)], [figure("mean", 0.5), figure("p95_above_limit", 0.2)]);
        let facts = Facts { chances: &own, flat: &flat, prior: "entered", ..Facts::default() };
        let words = "under the prior entered; under the flat prior of this program 20 %";
        assert!(decide(&facts).1.ends_with(words), "{}", decide(&facts).1);
        assert_eq!(decide(&Facts::default()), (Verdict::NotGiven, "no chance was computed".to_owned()));
    }
}
