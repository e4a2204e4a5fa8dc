//! What a probability plot shows: the shift figures at their normal scores, and the fitted line with its limits.

use super::sampled::{CONFIDENCE, Sampled, Told};
use crate::model::Interval;
use crate::model::assessment::{PlottedFigure, PlottedShare, ProbabilityPlot};
use fullshift_stats::censored::Quantity;
use fullshift_stats::fit::probability_plot_positions;
use fullshift_stats::special::normal;

/// Shares of shifts at which the line and its limits are computed.
const SHARES: [f64; 13] = [0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99];

/// The plot of shift figures, each with the name of its shift; the line is empty where no distribution can be fitted.
pub fn plot(values: &[(&str, Interval)], told: &Told) -> ProbabilityPlot {
    let mut sorted = values.to_vec();
    let middle = |v: &Interval| v.middle().unwrap_or(v.low());
    sorted.sort_by(|a, b| middle(&a.1).total_cmp(&middle(&b.1)).then(a.0.cmp(b.0)));
    let scores = probability_plot_positions(sorted.len()).unwrap_or_default();
    let figure = |((shift, value), score): (&(&str, Interval), f64)| PlottedFigure {
        shift: (*shift).to_owned(),
        low: value.low(),
        high: Some(value.high()).filter(|high| high.is_finite()),
        score,
    };
    let line = told.iter().flat_map(|sampled| SHARES.iter().filter_map(|&share| at(share, sampled)));
    ProbabilityPlot { figures: sorted.iter().zip(scores).map(figure).collect(), line: line.collect() }
}

fn at(share: f64, sampled: &Sampled) -> Option<PlottedShare> {
    let limits = sampled.limits(Quantity::Percentile(share), CONFIDENCE).ok()?;
    Some(PlottedShare {
        share,
        score: normal::quantile(share).ok()?,
        value: limits.estimate.value()?,
        low: limits.lower.value(),
        high: limits.upper.value(),
    })
}
