//! The geometric standard deviation with exact limits.

use super::{LogSample, check_confidence, figure_from_ln};
use crate::Result;
use crate::special::chi_squared;

/// The geometric standard deviation of the sample: `exp(s)`, with `s` the standard deviation of the logarithms (divisor `n - 1`).
///
/// ```
/// use fullshift_stats::complete::{LogSample, geometric_sd};
/// // USEPA 2009, Unified Guidance, example 17-3: s = 0.6279479
/// let sample = LogSample::from_values(&[19.7, 39.2, 7.8, 12.8, 10.2, 7.2, 16.1, 5.7])?;
/// assert!((geometric_sd::estimate(&sample)?.ln() - 0.6279479).abs() < 5e-8);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn estimate(sample: &LogSample) -> Result<f64> {
    figure_from_ln("geometric standard deviation", sample.sd_ln())
}

/// The exact lower limit: `exp(s sqrt(v / q))`, with `v = n - 1` and `q` the chi-squared point with `confidence` below it.
///
/// `confidence` is one-sided, from 1e-9 to 1 - 1e-9. As accurate as the chi-squared quantile (1e-13). Fails where the limit exceeds
/// the range of a double.
pub fn lower(sample: &LogSample, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    let point = chi_squared::quantile(confidence, sample.df())?;
    figure_from_ln("lower limit of the geometric standard deviation", scaled(sample, point))
}

/// The exact upper limit: `exp(s sqrt(v / q))`, `q` the chi-squared point with `confidence` above it; see [`lower`].
pub fn upper(sample: &LogSample, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    let point = chi_squared::quantile_upper(confidence, sample.df())?;
    figure_from_ln("upper limit of the geometric standard deviation", scaled(sample, point))
}

fn scaled(sample: &LogSample, point: f64) -> f64 {
    sample.sd_ln() * (sample.df() / point).sqrt()
}
