//! The figures of a profile: estimates with their limits, exact where every shift figure is a point.

use super::sampled::{CONFIDENCE, Known, SHARE, Sampled};
use super::working::{Values, working};
use crate::model::{Estimate, Figure, Input, shown};
use fullshift_stats::censored::{Limit, Quantity};

/// Confidence of the further upper limit of the 95th percentile, named `upper_70`.
const FURTHER_CONFIDENCE: f64 = 0.7;

/// The figures in the order in which they are printed, each with its unit and quantity.
fn wanted(limit: f64, unit: &str) -> [(&'static str, &str, Quantity); 5] {
    [
        ("gm", unit, Quantity::GeometricMean),
        ("gsd", "", Quantity::GeometricSd),
        ("mean", unit, Quantity::Mean),
        ("p95", unit, Quantity::Percentile(SHARE)),
        ("exceedance", "", Quantity::Exceedance(limit)),
    ]
}

/// The figures of shift values against a limit.
pub fn profile(known: &Known, limit: f64, unit: &str) -> Vec<(&'static str, Figure)> {
    let Known { values, told, .. } = known;
    let figure = |(name, unit, quantity)| {
        let figure = match told {
            Ok(sampled) => worked(estimate(sampled, quantity, unit), name, sampled, values, limit),
            Err(reason) => Figure::not_given(reason.clone()),
        };
        (name, figure)
    };
    wanted(limit, unit).into_iter().map(figure).collect()
}

fn estimate(sampled: &Sampled, quantity: Quantity, unit: &str) -> Figure {
    let limits = match sampled.limits(quantity, CONFIDENCE) {
        Ok(limits) => limits,
        Err(error) => return Figure::not_given(error.to_string()),
    };
    let Limit::At(value) = limits.estimate else {
        return Figure::not_given("the data set it no bound that a number can hold");
    };
    let ends = (limits.lower.value(), limits.upper.value());
    let open = (ends.0.is_none() || ends.1.is_none())
        .then(|| "on the side left open the data set no bound".to_owned());
    let mut figure = Figure::estimate(value, ends, CONFIDENCE, unit, sampled.method(quantity), open);
    if let (Quantity::Percentile(_), Figure::Given(estimate)) = (quantity, &mut figure) {
        further_limit(sampled, quantity, estimate);
    }
    figure
}

/// The figure with its working, which says the limit it was held against and what came out.
fn worked(figure: Figure, name: &str, sampled: &Sampled, values: &Values, limit: f64) -> Figure {
    let mut steps = working(name, sampled, values);
    if let (Some(step), Figure::Given(estimate)) = (steps.first_mut(), &figure) {
        if name == "exceedance" {
            step.inputs.push(Input::new("L", format!("{} {}", shown(limit), values.unit()), "limits"));
        }
        let end = |x: Option<f64>| x.map_or("open".to_owned(), shown);
        let further =
            estimate.further.iter().map(|(name, x)| format!(", {name} {}", shown(*x))).collect::<String>();
        step.result = format!(
            "{} {}; 95 % lower limit {}, 95 % upper limit {}{further}",
            shown(estimate.value),
            estimate.unit,
            end(estimate.low),
            end(estimate.high)
        );
    }
    figure.with_trail(steps)
}

fn further_limit(sampled: &Sampled, quantity: Quantity, estimate: &mut Estimate) {
    if let Ok(limits) = sampled.limits(quantity, FURTHER_CONFIDENCE) {
        estimate.further.extend(limits.upper.value().map(|limit| ("upper_70", limit)));
    }
}
