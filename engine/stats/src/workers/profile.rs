//! Everything about the differences between workers at once.

use super::between_limits::{between_sd_lower, between_sd_upper};
use super::components::{Likelihood, VarianceComponents, variance_components};
use super::effects::{WorkerEffect, worker_effects};
use super::location_limits::{location_lower, location_upper};
use super::repeats::Repeats;
use super::share_over::{OwnFigure, OwnLimits};
use super::total_limits::{total_sd_lower, total_sd_upper};
use super::within_limits::{share_between_lower, share_between_upper, within_sd_lower, within_sd_upper};
use super::{AnalysisOfVariance, analysis_of_variance};
use crate::Result;
use crate::special::normal;
use std::fmt;

/// Twice the normal quantile of 97.5 %.
const SPAN_95: f64 = 2.0 * 1.959_963_984_540_054;

/// Why a part of a figure cannot be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Absent {
    /// The fitted spread between workers is nil.
    NoSpreadBetween,
    /// The limit lies where the workers do not differ, so that none or all of them are above.
    Unbounded,
    /// The figure is too large to be written as a number.
    TooLarge,
}

impl fmt::Display for Absent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Absent::NoSpreadBetween => "the fitted spread between workers is nil",
            Absent::Unbounded => "the data do not bound it on this side",
            Absent::TooLarge => "too large to be written as a number",
        })
    }
}

/// A number, or the reason why there is none.
pub type Given = std::result::Result<f64, Absent>;

/// A figure with its one-sided limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounded {
    /// The estimate.
    pub value: Given,
    /// The lower limit.
    pub lower: Given,
    /// The upper limit.
    pub upper: Given,
}

/// The share of workers above a limit, by their own 95th percentile and by their own mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AboveLimit {
    /// Share of workers whose own 95th percentile lies above.
    pub share_percentile: Bounded,
    /// Share of workers whose own mean lies above.
    pub share_mean: Bounded,
    /// Distance from the middle worker's own 95th percentile to the limit, in standard deviations between workers.
    pub distance: Bounded,
}

/// Everything about the differences between workers.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkersProfile {
    /// Number of workers.
    pub workers: usize,
    /// Number of values.
    pub values: usize,
    /// Whether every worker has the same number of values.
    pub balanced: bool,
    /// One-sided confidence of every limit below.
    pub confidence: f64,
    /// Analysis of variance; its p-value is that of the test that the group is homogeneous.
    pub anova: AnalysisOfVariance,
    /// Restricted maximum likelihood fit; the estimates below come from it.
    pub fit: VarianceComponents,
    /// Geometric mean of the group.
    pub gm: Bounded,
    /// Geometric standard deviation of the workers' own geometric means.
    pub gsd_between: Bounded,
    /// Geometric standard deviation of one worker's values.
    pub gsd_within: Bounded,
    /// Geometric standard deviation of all values.
    pub gsd_total: Bounded,
    /// Share of the variance of the logarithms that lies between workers.
    pub share_between: Bounded,
    /// Ratio of the 97.5th to the 2.5th percentile of the workers' own means.
    pub ratio_975_025: Bounded,
    /// Workers above the limit, where a limit was given.
    pub above_limit: Option<AboveLimit>,
    /// Each worker's place in the group.
    pub effects: Vec<WorkerEffect>,
}

impl WorkersProfile {
    /// Numbers of the workers standing apart: those with an adjusted chance below `1 - confidence`.
    pub fn apart(&self) -> Vec<usize> {
        let surprising = |effect: &WorkerEffect| effect.p_value < 1.0 - self.confidence;
        (0..self.effects.len()).filter(|&i| surprising(&self.effects[i])).collect()
    }
}

/// Everything about the differences between workers, from the logarithms of their values.
///
/// Estimates by restricted maximum likelihood ([`variance_components`]); limits one-sided at `confidence`, exact for
/// `gsd_within` and `share_between` ([`within_sd_lower`], [`share_between_lower`]), by generalised pivots for the spread between
/// and the shares above ([`between_sd_lower`], [`super::share_over_lower`]), by Graybill and Wang for `gsd_total` ([`total_sd_lower`]) and by
/// Hartung and Knapp for `gm` ([`location_lower`]). `ratio_975_025` is `exp(3.92 s_b)`. `limit`
/// is a logarithm; `confidence` lies between 0 and 1.
///
/// Fails with `OutsideDomain` for a confidence or limit outside its range, and with `NoConvergence`.
///
/// ```
/// use fullshift_stats::workers::{Repeats, profile};
/// // Dyestuff yields (Davies and Goldsmith 1972) divided by 100, taken for logarithms: standard deviations 0.4200 and 0.4951.
/// let batches = [
///     [15.45, 14.40, 14.40, 15.20, 15.80], [15.40, 15.55, 14.90, 15.60, 14.95], [15.95, 15.50, 16.05, 15.10, 15.60],
///     [14.45, 14.40, 15.95, 14.65, 15.45], [15.95, 16.30, 15.15, 16.35, 16.25], [15.20, 14.55, 14.50, 14.80, 14.45],
/// ];
/// let profile = profile(&Repeats::of(&batches)?, Some(17.0), 0.95)?;
/// assert!((profile.gsd_between.value.unwrap() - 0.4200_f64.exp()).abs() < 1e-4);
/// assert!((profile.gsd_within.value.unwrap() - 0.4951_f64.exp()).abs() < 1e-4);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn profile(repeats: &Repeats, limit: Option<f64>, confidence: f64) -> Result<WorkersProfile> {
    let fit = variance_components(repeats, Likelihood::Restricted)?;
    let (between, within) = (fit.between.sqrt(), fit.within.sqrt());
    let (low, high) = (between_sd_lower(repeats, confidence)?, between_sd_upper(repeats, confidence)?);
    Ok(WorkersProfile {
        workers: repeats.workers(),
        values: repeats.values(),
        balanced: repeats.is_balanced(),
        confidence,
        anova: analysis_of_variance(repeats)?,
        fit,
        gm: exponentials(
            fit.location,
            location_lower(repeats, &fit, confidence)?,
            location_upper(repeats, &fit, confidence)?,
        ),
        gsd_between: exponentials(between, low, high),
        gsd_within: exponentials(
            within,
            within_sd_lower(repeats, confidence)?,
            within_sd_upper(repeats, confidence)?,
        ),
        gsd_total: exponentials(
            (fit.between + fit.within).sqrt(),
            total_sd_lower(repeats, confidence)?,
            total_sd_upper(repeats, confidence)?,
        ),
        share_between: Bounded {
            value: Ok(fit.share_between()),
            lower: Ok(share_between_lower(repeats, confidence)?),
            upper: Ok(share_between_upper(repeats, confidence)?),
        },
        ratio_975_025: exponentials(SPAN_95 * between, SPAN_95 * low, SPAN_95 * high),
        above_limit: limit.map(|limit| above_limit(repeats, &fit, limit, confidence)).transpose()?,
        effects: worker_effects(repeats, &fit)?,
    })
}

fn above_limit(
    repeats: &Repeats,
    fit: &VarianceComponents,
    limit: f64,
    confidence: f64,
) -> Result<AboveLimit> {
    let limits = OwnLimits::of(repeats, limit)?;
    let percentile = limits.distance(fit, OwnFigure::Percentile(0.95), confidence)?;
    let mean = limits.distance(fit, OwnFigure::Mean, confidence)?;
    Ok(AboveLimit {
        share_percentile: shares(percentile),
        share_mean: shares(mean),
        distance: Bounded {
            value: finite(percentile.0, Absent::NoSpreadBetween),
            lower: finite(percentile.1, Absent::Unbounded),
            upper: finite(percentile.2, Absent::Unbounded),
        },
    })
}

/// Shares above, from the distance to the limit and its two limits.
fn shares((value, lower, upper): (f64, f64, f64)) -> Bounded {
    Bounded {
        value: Ok(normal::upper(value)),
        lower: Ok(normal::upper(upper)),
        upper: Ok(normal::upper(lower)),
    }
}

fn exponentials(value: f64, lower: f64, upper: f64) -> Bounded {
    let raised = |exponent: f64| finite(exponent.exp(), Absent::TooLarge);
    Bounded { value: raised(value), lower: raised(lower), upper: raised(upper) }
}

fn finite(number: f64, absent: Absent) -> Given {
    if number.is_finite() { Ok(number) } else { Err(absent) }
}
