//! Intervals, limits and shares as figures.

use crate::model::shift::{Reason, Sampling, SamplingBasis, Share, Window};
use crate::model::{Figure, Input, Interval, Step, brief, shown};

/// An upper limit this many times the value says nothing.
const USELESS: f64 = 100.0;

/// A limit this high is no concentration that air can have: the pure substance has a million ppm.
const BEYOND_ANY_AIR: f64 = 1e6;

/// Why a figure of a few short readings has no interval where none could be computed.
pub const ONE_SHIFT: &str =
    "how far a few short readings can be from the mean of the time they stand for is not in this figure";

/// An interval of concentrations as a figure: its middle stands for it.
pub fn figure_of(interval: Interval, unit: &str, method: &str, no_interval: &str) -> Figure {
    match interval.middle() {
        Some(value) if interval.is_point() => Figure::without_interval(value, unit, method, no_interval),
        Some(value) => {
            let method = format!("{method}; the middle of the range that its parts leave open");
            Figure::between(value, interval.low(), interval.high(), unit, method)
        }
        None => Figure::AtLeast {
            low: interval.low(),
            unit: unit.to_owned(),
            not_given: "a stain went past the last mark, so there is no upper end".to_owned(),
            trail: Vec::new(),
        },
    }
}

/// A mean over time with its one-sided limits; the range that its parts leave open goes with it.
pub fn sampled_figure(
    range: Interval,
    sampling: &Result<Sampling, Reason>,
    unit: &str,
    what: &str,
) -> Figure {
    let (value, sampling) = match (range.middle(), sampling) {
        (Some(value), Ok(sampling)) => (value, sampling),
        (_, Err(reason)) => return figure_of(range, unit, what, reason),
        (None, _) => return figure_of(range, unit, what, ONE_SHIFT),
    };
    match sampling.basis {
        SamplingBasis::Spread => {}
        SamplingBasis::Open => return figure_of(range, unit, what, ONE_SHIFT),
        SamplingBasis::Measurement => return measured_figure(value, sampling, unit, what),
    }
    let method = format!("{what}; Land's limits at an effective sample size");
    // Limits that leave the value out are not given; what is left is rounding.
    let (low, high) = (sampling.lower.min(value), sampling.upper.max(value));
    let useful = high <= USELESS * value;
    let reason = (!useful).then(|| match high < BEYOND_ANY_AIR {
        true => format!("so few readings set no useful upper limit; it would be {} {unit}", brief(high)),
        false => "so few readings set no useful upper limit".to_owned(),
    });
    let ends = (Some(low), Some(high).filter(|_| useful));
    let mut figure = Figure::estimate(value, ends, sampling.confidence, unit, method, reason);
    if let (Figure::Given(estimate), false) = (&mut figure, range.is_point()) {
        estimate.further.extend([("range_low", range.low()), ("range_high", range.high())]);
    }
    figure
}

/// A short-term window with the limits of the tubes' own error, and the highest reading held for all of it beside them.
pub fn window_figure(window: &Window, what: &str, unit: &str) -> Figure {
    let (Some(value), Ok(sampling)) = (window.mean.middle(), &window.sampling) else {
        return figure_of(window.mean, unit, what, ONE_SHIFT);
    };
    let ends = (Some(sampling.lower.min(value)), Some(sampling.upper.max(value)));
    let method = format!("{what}; limits of the tubes' own error, not of the air between the tubes");
    let mut figure = Figure::estimate(value, ends, sampling.confidence, unit, method, None);
    if let Figure::Given(estimate) = &mut figure {
        let held = [("highest_held", window.bound), ("highest_held_upper", window.bound_upper)];
        estimate.further.extend(held.into_iter().filter(|(_, end)| end.is_finite()));
    }
    figure
}

/// A mean of which only the tubes' own error is known: that is no interval of the mean over time.
fn measured_figure(value: f64, sampling: &Sampling, unit: &str, what: &str) -> Figure {
    let reason = format!(
        "too few tubes to know how the air varied; the tubes' own error alone gives {} to {} {unit}",
        brief(sampling.lower),
        brief(sampling.upper)
    );
    let mut figure = Figure::without_interval(value, unit, what, reason);
    if let Figure::Given(estimate) = &mut figure {
        estimate.further.extend([("measurement_low", sampling.lower), ("measurement_high", sampling.upper)]);
    }
    figure
}

/// The working behind the limits.
pub fn sampling_step(sampling: &Result<Sampling, Reason>, unit: &str) -> Option<Step> {
    let sampling = sampling.as_ref().ok().filter(|s| s.basis == SamplingBasis::Spread)?;
    Some(Step {
        name: "limits of the mean".to_owned(),
        formula: "Land's limits with the location, spread, degrees of freedom and effective number of all tasks together".to_owned(),
        inputs: sampling.notes.iter().map(|note| Input::new("note", note, "readings")).collect(),
        result: format!("{}, each with 95 % confidence", with_unit(sampling.lower, sampling.upper, unit)),
        source: "Land-1971; handbook, page statistics-shift-mean",
    })
}

fn with_unit(low: f64, high: f64, unit: &str) -> String {
    format!("{} to {} {unit}", shown(low), shown(high)).trim_end().to_owned()
}

/// One-sided confidence of the limits of a share.
const SHARE_CONFIDENCE: f64 = 0.95;

/// A share of a dose as a figure; without limits, what the ranges of its parts leave open.
pub fn share_figure(share: &Result<Share, Reason>) -> Figure {
    match share {
        Ok(share) => match share.limits {
            Ok((lower, upper)) => {
                let ends = (Some(lower.min(share.low)), Some(upper.max(share.high)));
                let method =
                    "share of the dose, by middle values; limits from those of the dose and of the rest";
                Figure::estimate(share.value, ends, SHARE_CONFIDENCE, "", method, None)
            }
            Err(_) => {
                Figure::between(share.value, share.low, share.high, "", "share of the dose, by middle values")
            }
        },
        Err(reason) => Figure::not_given(reason.clone()),
    }
}

/// A figure over a limit.
pub fn ratio(figure: &Figure, limit: f64) -> Figure {
    match figure {
        Figure::Given(estimate) => {
            let mut ratio = estimate.clone();
            ratio.value /= limit;
            ratio.low = ratio.low.map(|x| x / limit);
            ratio.high = ratio.high.map(|x| x / limit);
            ratio.further.values_mut().for_each(|x| *x /= limit);
            ratio.unit = String::new();
            ratio.trail.clear();
            Figure::Given(ratio)
        }
        Figure::AtLeast { low, not_given, .. } => Figure::AtLeast {
            low: low / limit,
            unit: String::new(),
            not_given: not_given.clone(),
            trail: Vec::new(),
        },
        Figure::NotGiven { .. } => figure.clone(),
    }
}
