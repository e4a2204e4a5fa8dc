//! A second opinion on shift figures known as ranges: other methods' estimates, which have no limits of their own.

use super::middles::{is_narrow, labelled};
use super::sampled::SHARE;
use super::working::{Values, from_values};
use crate::model::{Figure, Interval, brief};
use fullshift_stats::Result;
use fullshift_stats::censored::{Observation, order_regression, product_limit, turnbull};

const NO_INTERVAL: &str = "a second opinion beside the fit, which has the limits";
const NOT_NEEDED: &str = "every shift figure is a point, so the fit needs no second opinion";

/// Of fewer values the 95th percentile without a model is the highest: each is more than 5 % of them.
const FEWEST_FOR_P95: usize = 20;

/// What a method says.
enum Answer {
    /// A value in the unit of the figures.
    Value(f64),
    /// A pure number.
    Number(f64),
    /// Where it lies.
    Ends(f64, f64),
}

/// A method: the name of its figure, fewest shifts of which it says more than their ends, what it is, how it is computed, where from.
struct Opinion {
    name: &'static str,
    fewest: usize,
    method: &'static str,
    formula: &'static str,
    source: &'static str,
    of: fn(&[Observation]) -> Result<Answer>,
}

/// Methods for points and for values below a bound.
const BELOW_A_BOUND: [Opinion; 4] = [
    Opinion {
        name: "gm_order_regression",
        fewest: 1,
        method: "geometric mean by regression on order statistics",
        formula: "exp of the mean of ln x, values below their bounds filled in from the line of the others",
        source: "Helsel-Cohn-1988",
        of: |all| order_regression(all).map(|line| Answer::Value(line.mean_ln().exp())),
    },
    Opinion {
        name: "gsd_order_regression",
        fewest: 1,
        method: "geometric standard deviation by regression on order statistics",
        formula: "exp of the standard deviation of ln x, values below their bounds filled in from the line of the others",
        source: "Helsel-Cohn-1988",
        of: |all| order_regression(all).map(|line| Answer::Number(line.sd_ln().exp())),
    },
    Opinion {
        name: "mean_order_regression",
        fewest: 1,
        method: "mean by regression on order statistics",
        formula: "mean of x, values below their bounds filled in from the line of the others",
        source: "Helsel-Cohn-1988",
        of: |all| order_regression(all).map(|line| Answer::Value(line.mean())),
    },
    Opinion {
        name: "mean_product_limit",
        fewest: 1,
        method: "mean of the product-limit distribution",
        formula: "sum of value x mass; what is left below the lowest value counts at the lowest bound",
        source: "Kaplan-Meier-1958",
        of: |all| product_limit(all).map(|found| Answer::Value(found.mean())),
    },
];

/// Methods for ranges of any kind.
const ANY_RANGE: [Opinion; 2] = [
    Opinion {
        name: "mean_turnbull",
        fewest: 1,
        method: "mean of the distribution of ranges without a model",
        formula: "sum of cell x mass, the mass of every cell at its lower and at its upper end",
        source: "Turnbull-1976",
        of: |all| {
            let (low, high) = turnbull(all)?.mean_bounds();
            Ok(Answer::Ends(low, high))
        },
    },
    Opinion {
        name: "p95_turnbull",
        fewest: FEWEST_FOR_P95,
        method: "95th percentile of the distribution of ranges without a model",
        formula: "the cell up to which the masses add to 95 %",
        source: "Turnbull-1976",
        of: |all| {
            let cell = turnbull(all)?.percentile(SHARE);
            Ok(cell.map_or(Answer::Ends(0.0, f64::INFINITY), |cell| Answer::Ends(cell.low, cell.high)))
        },
    },
];

/// The second opinions by name; all with one reason where no figure is a range.
pub fn figures(values: &Values, unit: &str) -> Vec<(&'static str, Figure)> {
    if values.intervals().iter().all(|v| v.is_point()) {
        let opinions = BELOW_A_BOUND.iter().chain(&ANY_RANGE);
        return opinions.map(|o| (o.name, Figure::not_given(NOT_NEEDED))).collect();
    }
    let below = of_kind(&BELOW_A_BOUND, below_a_bound(values.intervals()), values, unit);
    let any = observed(values.intervals().iter().map(|v| (v.low(), v.high())));
    below.into_iter().chain(of_kind(&ANY_RANGE, any.map(|all| (all, true)), values, unit)).collect()
}

type Observed = std::result::Result<(Vec<Observation>, bool), String>;

fn of_kind(
    opinions: &[Opinion],
    observed: Observed,
    values: &Values,
    unit: &str,
) -> Vec<(&'static str, Figure)> {
    let figure = |opinion: &Opinion| match &observed {
        Ok((all, _)) if all.len() < opinion.fewest => Figure::not_given(format!(
            "of {} shifts it would be the highest; it needs {}",
            all.len(),
            opinion.fewest
        )),
        Ok((all, as_found)) => match (opinion.of)(all) {
            Ok(answer) => {
                let steps = from_values(opinion.method, opinion.formula, opinion.source, values);
                figure_of(answer, unit, &labelled(opinion.method, *as_found)).with_trail(steps)
            }
            Err(error) => Figure::not_given(error.to_string()),
        },
        Err(reason) => Figure::not_given(reason.clone()),
    };
    opinions.iter().map(|opinion| (opinion.name, figure(opinion))).collect()
}

/// Points and values below a bound, the middles of narrow ranges standing in for them, and whether none had to.
fn below_a_bound(values: &[Interval]) -> Observed {
    if let Some(wide) = values.iter().find(|v| v.low() > 0.0 && !is_narrow(**v)) {
        let (low, high) = (brief(wide.low()), brief(wide.high()));
        return Err(format!("for points and values below a bound; a shift figure lies from {low} to {high}"));
    }
    let ends = |v: &Interval| match v.middle() {
        Some(middle) if v.low() > 0.0 => (middle, middle),
        _ => (v.low(), v.high()),
    };
    let as_found = values.iter().all(|v| v.low() == 0.0 || v.is_point());
    Ok((observed(values.iter().map(ends))?, as_found))
}

fn observed(ends: impl Iterator<Item = (f64, f64)>) -> std::result::Result<Vec<Observation>, String> {
    let all: Result<Vec<Observation>> = ends.map(|(low, high)| Observation::between(low, high)).collect();
    all.map_err(|error| error.to_string())
}

fn figure_of(answer: Answer, unit: &str, method: &str) -> Figure {
    match answer {
        Answer::Value(value) => Figure::without_interval(value, unit, method, NO_INTERVAL),
        Answer::Number(number) => Figure::without_interval(number, "", method, NO_INTERVAL),
        Answer::Ends(low, high) if high.is_finite() => {
            Figure::between(0.5 * (low + high), low, high, unit, method)
        }
        Answer::Ends(low, _) => Figure::AtLeast {
            low,
            unit: unit.to_owned(),
            not_given: "a shift figure has no upper end".to_owned(),
            trail: Vec::new(),
        },
    }
}
