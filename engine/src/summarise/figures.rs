//! The figures of a profile: estimates with their limits, exact where every shift figure is a point.

use super::sampled::{CONFIDENCE, SHARE, Sampled, sample_of};
use super::working::{Values, working};
use crate::model::{Estimate, Figure};
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
pub fn profile(values: &Values, limit: f64, unit: &str) -> Vec<(&'static str, Figure)> {
    let sample = sample_of(values.intervals());
    let sampled =
        sample.as_ref().map_err(String::clone).and_then(|sample| Sampled::of(values.intervals(), sample));
    let figure = |(name, unit, quantity)| {
        let figure = match &sampled {
            Ok(sampled) => estimate(sampled, quantity, unit).with_trail(working(name, sampled, values)),
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

fn further_limit(sampled: &Sampled, quantity: Quantity, estimate: &mut Estimate) {
    if let Ok(limits) = sampled.limits(quantity, FURTHER_CONFIDENCE) {
        estimate.further.extend(limits.upper.value().map(|limit| ("upper_70", limit)));
    }
}
