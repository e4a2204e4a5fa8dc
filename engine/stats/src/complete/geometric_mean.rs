//! The geometric mean, which is the median of a lognormal distribution, with exact limits.

use super::{LogSample, check_confidence, figure_from_ln};
use crate::Result;
use crate::special::student_t;

/// The geometric mean of the sample: `exp(ybar)`, with `ybar` the mean of the logarithms.
///
/// ```
/// use fullshift_stats::complete::{LogSample, geometric_mean};
/// // Data of Gilbert-1987, example 13.1: mean log 1.48235
/// let x = [3.161, 4.151, 3.756, 2.202, 1.535, 20.76, 8.42, 7.81, 2.72, 4.43];
/// let gm = geometric_mean::estimate(&LogSample::from_values(&x)?)?;
/// assert!((gm.ln() - 1.48235).abs() < 1e-5);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn estimate(sample: &LogSample) -> Result<f64> {
    figure_from_ln("geometric mean", sample.mean_ln())
}

/// The exact lower limit of the geometric mean: `exp(ybar - t s / sqrt(n))`, with `s` the standard deviation of the logarithms and
/// `t` the quantile of Student's t with `n - 1` degrees of freedom.
///
/// `confidence` is one-sided, from 1e-9 to 1 - 1e-9. As accurate as Student's quantile (1e-13). Fails where the limit exceeds the
/// range of a double.
pub fn lower(sample: &LogSample, confidence: f64) -> Result<f64> {
    figure_from_ln("lower limit of the geometric mean", sample.mean_ln() - half_width(sample, confidence)?)
}

/// The exact upper limit of the geometric mean: `exp(ybar + t s / sqrt(n))`; see [`lower`].
pub fn upper(sample: &LogSample, confidence: f64) -> Result<f64> {
    figure_from_ln("upper limit of the geometric mean", sample.mean_ln() + half_width(sample, confidence)?)
}

fn half_width(sample: &LogSample, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    Ok(student_t::quantile(confidence, sample.df())? * sample.sd_ln() / sample.size().sqrt())
}
