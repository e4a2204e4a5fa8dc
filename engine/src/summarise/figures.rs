//! The figures of a profile: estimates with their limits, exact where every shift figure is a point.

use super::sampled::{CONFIDENCE, Known, SHARE, Sampled};
use super::working::{Values, from_values, working};
use crate::model::{Estimate, Figure, Input, shown};
use fullshift_stats::Result;
use fullshift_stats::censored::{Limit, Quantity};
use fullshift_stats::complete::share_by_count;

/// Confidence of the further upper limit of the 95th percentile, named `upper_70`.
const FURTHER_CONFIDENCE: f64 = 0.7;

/// Fewest shifts whose count says anything.
const FEWEST_COUNTED: usize = 3;

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
            Err(reason) if name == "exceedance" => by_count(values, limit, reason),
            Err(reason) => Figure::not_given(reason.clone()),
        };
        (name, figure)
    };
    wanted(limit, unit).into_iter().map(figure).collect()
}

/// The share of shifts above the limit by their count, where no distribution can be fitted; not given for fewer than three shifts
/// and where one may lie on either side.
fn by_count(values: &Values, limit: f64, reason: &str) -> Figure {
    let all = values.intervals();
    let above = all.iter().filter(|v| v.low() > limit).count();
    let sure = above + all.iter().filter(|v| v.high() <= limit).count() == all.len();
    let limits = || -> Result<(f64, f64)> {
        Ok((
            share_by_count::lower(above, all.len(), CONFIDENCE)?,
            share_by_count::upper(above, all.len(), CONFIDENCE)?,
        ))
    };
    match limits() {
        Ok((low, high)) if sure && all.len() >= FEWEST_COUNTED => {
            let method = "share of shifts above the limit by their count; Clopper and Pearson's limits";
            let share = above as f64 / all.len() as f64;
            Figure::estimate(share, (Some(low), Some(high)), CONFIDENCE, "", method, None).with_trail(
                from_values(
                    "share of shifts above the limit",
                    "those above of all; limits of a binomial share, no distribution assumed",
                    "Clopper-Pearson-1934",
                    values,
                ),
            )
        }
        _ => Figure::not_given(reason),
    }
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
