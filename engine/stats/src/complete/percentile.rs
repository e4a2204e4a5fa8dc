//! A percentile of a lognormal distribution with exact limits at any confidence.

use super::{LogSample, check_confidence, figure_from_ln};
use crate::special::{noncentral_t, normal};
use crate::{Error, Result};

/// The percentile with share `share` of the distribution below it: `exp(ybar + z s)`, `z` the normal quantile of `share`.
pub fn estimate(sample: &LogSample, share: f64) -> Result<f64> {
    figure_from_ln("percentile", sample.mean_ln() + normal::quantile(share)? * sample.sd_ln())
}

/// The exact lower limit of the percentile: `exp(ybar + k s)` with [`tolerance_factor_lower`].
///
/// `share` in (0, 1); `confidence` one-sided, from 1e-9 to 1 - 1e-9. As accurate as the factor. Fails where the limit exceeds the range
/// of a double.
pub fn lower(sample: &LogSample, share: f64, confidence: f64) -> Result<f64> {
    let k = tolerance_factor_lower(sample.n(), share, confidence)?;
    figure_from_ln("lower limit of the percentile", sample.mean_ln() + k * sample.sd_ln())
}

/// The exact upper limit of the percentile: `exp(ybar + k s)` with [`tolerance_factor_upper`]; see [`lower`].
///
/// ```
/// use fullshift_stats::complete::{LogSample, percentile};
/// // USEPA 2009, Unified Guidance, example 17-3: upper limit of the 95th percentile at 95 % confidence is 90.9247
/// let sample = LogSample::from_values(&[19.7, 39.2, 7.8, 12.8, 10.2, 7.2, 16.1, 5.7])?;
/// assert!((percentile::upper(&sample, 0.95, 0.95)? - 90.9247).abs() < 5e-5);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn upper(sample: &LogSample, share: f64, confidence: f64) -> Result<f64> {
    let k = tolerance_factor_upper(sample.n(), share, confidence)?;
    figure_from_ln("upper limit of the percentile", sample.mean_ln() + k * sample.sd_ln())
}

/// How many standard deviations above the mean of `n` normal values the upper limit of a percentile lies.
///
/// `k = t'(n - 1, z sqrt(n)) / sqrt(n)`: `t'` the point of the noncentral t distribution with `confidence` below it, `z` the normal
/// quantile of `share`. `n` from 2 to 1e9; `share` in (0, 1); `confidence` from 1e-9 to 1 - 1e-9. Relative error below 1e-12 (tables
/// `tolerance-factors-*`). Source: Hahn-Meeker-1991, section 4.4. Fails with `OutsideDomain`.
///
/// ```
/// // Hahn-Meeker-1991, table A.12: 6 values, 95th percentile, 95 % confidence
/// let k = fullshift_stats::complete::percentile::tolerance_factor_upper(6, 0.95, 0.95)?;
/// assert!((k - 3.708).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn tolerance_factor_upper(n: usize, share: f64, confidence: f64) -> Result<f64> {
    let (df, root, noncentrality) = setting(n, share, confidence)?;
    Ok(noncentral_t::quantile(confidence, df, noncentrality)? / root)
}

/// The factor of the lower limit: as [`tolerance_factor_upper`] with `confidence` above `t'`.
pub fn tolerance_factor_lower(n: usize, share: f64, confidence: f64) -> Result<f64> {
    let (df, root, noncentrality) = setting(n, share, confidence)?;
    Ok(noncentral_t::quantile_upper(confidence, df, noncentrality)? / root)
}

fn setting(n: usize, share: f64, confidence: f64) -> Result<(f64, f64, f64)> {
    check_confidence(confidence)?;
    if n < 2 {
        return Err(Error::OutsideDomain { what: "number of values", value: n as f64, allowed: "2 or more" });
    }
    let root = (n as f64).sqrt();
    Ok((n as f64 - 1.0, root, normal::quantile(share)? * root))
}
