//! Shift figures as a lognormal sample: complete, or with values known only between bounds.

use super::working::Values;
use crate::model::Interval;
use fullshift_stats::Result;
use fullshift_stats::censored::{InvariantLimits, Limit, Limits, Observation, Quantity, Sample};
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, percentile,
};

/// One-sided confidence of every limit unless it is named otherwise.
pub const CONFIDENCE: f64 = 0.95;

/// The percentile that is held against a limit.
pub const SHARE: f64 = 0.95;

/// A sample of one value or more; the error says in words why there is none.
pub fn sample_of(values: &[Interval]) -> std::result::Result<Sample, String> {
    if values.is_empty() {
        return Err("no shift has a figure".to_owned());
    }
    if values.iter().any(|v| v.high() == 0.0) {
        return Err("a shift figure is exactly zero, which no lognormal distribution can hold".to_owned());
    }
    let observed: Result<Vec<Observation>> =
        values.iter().map(|v| Observation::between(v.low(), v.high())).collect();
    observed.and_then(|list| Sample::new(&list)).map_err(|e| e.to_string())
}

/// A sample from which figures can be taken.
pub enum Sampled<'a> {
    /// Every value is a point.
    Complete(LogSample),
    /// Some values are intervals.
    Censored(InvariantLimits<'a>),
}

/// Shift figures with what they tell.
pub struct Known<'a> {
    /// The shift figures.
    pub values: &'a Values,
    /// The same as a sample.
    pub sample: &'a std::result::Result<Sample, String>,
    /// What it tells.
    pub told: &'a Told<'a>,
}

/// What values tell, or in words why they tell nothing. Found once: the fit of values known between bounds is dear.
pub type Told<'a> = std::result::Result<Sampled<'a>, String>;

/// What these values tell; `sample` is made of the same.
pub fn told<'a>(values: &[Interval], sample: &'a std::result::Result<Sample, String>) -> Told<'a> {
    sample.as_ref().map_err(String::clone).and_then(|sample| Sampled::of(values, sample))
}

impl<'a> Sampled<'a> {
    fn of(values: &[Interval], sample: &'a Sample) -> Told<'a> {
        if values.len() < 2 {
            return Err("one shift shows no spread; at least two are needed".to_owned());
        }
        if values.iter().all(|v| v.low() == 0.0) {
            return Err(format!(
                "all {} shift figures reach down to zero; at least three must lie above it",
                values.len()
            ));
        }
        if values.iter().all(|v| v.is_point() && v.low() == values[0].low()) {
            return Err("all shift figures are equal, so no spread shows".to_owned());
        }
        if values.iter().all(|v| v.is_point()) {
            let points: Vec<f64> = values.iter().map(|v| v.low()).collect();
            return LogSample::from_values(&points).map(Sampled::Complete).map_err(|e| e.to_string());
        }
        InvariantLimits::new(sample).map(Sampled::Censored).map_err(|e| e.to_string())
    }

    /// A quantity with its one-sided limits.
    pub fn limits(&self, quantity: Quantity, confidence: f64) -> Result<Limits> {
        match self {
            Sampled::Complete(sample) => complete(sample, quantity, confidence),
            Sampled::Censored(limits) => limits.limits(quantity, confidence),
        }
    }

    /// How a quantity and its limits are found, in a few words.
    pub fn method(&self, quantity: Quantity) -> &'static str {
        match (self, quantity) {
            (Sampled::Censored(_), _) => {
                "censored lognormal fit; approximate limits, exact where nothing is censored"
            }
            (_, Quantity::GeometricMean) => "geometric mean; exact t limits",
            (_, Quantity::GeometricSd) => "geometric standard deviation; exact chi-square limits",
            (_, Quantity::Mean) => "unbiased mean; Land's exact limits",
            (_, Quantity::Percentile(_)) => "lognormal percentile; exact noncentral t limits",
            (_, Quantity::Exceedance(_)) => "lognormal share above the limit; exact noncentral t limits",
        }
    }
}

fn complete(sample: &LogSample, quantity: Quantity, confidence: f64) -> Result<Limits> {
    let (estimate, lower, upper) = match quantity {
        Quantity::GeometricMean => (
            geometric_mean::estimate(sample)?,
            geometric_mean::lower(sample, confidence),
            geometric_mean::upper(sample, confidence),
        ),
        Quantity::GeometricSd => (
            geometric_sd::estimate(sample)?,
            geometric_sd::lower(sample, confidence),
            geometric_sd::upper(sample, confidence),
        ),
        Quantity::Mean => (
            arithmetic_mean::estimate(sample)?,
            arithmetic_mean::lower(sample, confidence),
            arithmetic_mean::upper(sample, confidence),
        ),
        Quantity::Percentile(share) => (
            percentile::estimate(sample, share)?,
            percentile::lower(sample, share, confidence),
            percentile::upper(sample, share, confidence),
        ),
        Quantity::Exceedance(limit) => (
            exceedance::estimate(sample, limit)?,
            exceedance::lower(sample, limit, confidence),
            exceedance::upper(sample, limit, confidence),
        ),
    };
    // A limit beyond the numbers that a double can hold is an open end, not a lost figure.
    let end = |limit: Result<f64>| limit.map_or(Limit::Unbounded, Limit::At);
    Ok(Limits { estimate: Limit::At(estimate), lower: end(lower), upper: end(upper) })
}
