//! The share of a lognormal distribution above a point, with exact limits.

use super::{LogSample, check_confidence};
use crate::special::{chi_squared, noncentral_t, normal};
use crate::{Error, Result};
use statrs::function::beta::checked_beta_reg;

/// Beyond this many standard errors every share is 0 or 1 to the last digit of a double.
const FAR: f64 = 1e12;

/// The share above `point` with the sample's statistics in place of the true ones: `1 - Phi(u)`, `u = (ln point - ybar) / s`.
pub fn estimate(sample: &LogSample, point: f64) -> Result<f64> {
    Ok(normal::upper(distance(sample, point)?))
}

/// The estimate without bias of the share above `point`.
///
/// `I_x((n-2)/2, (n-2)/2)`, the regularised incomplete beta function at `x = 1/2 - u sqrt(n) / (2 (n - 1))`, held between 0 and 1. For
/// three values or more. Absolute error below 1e-12 to `n = 1000` (table `exceedance-estimates`). Source: Lieberman-Resnikoff-1955.
pub fn unbiased(sample: &LogSample, point: f64) -> Result<f64> {
    if sample.n() < 3 {
        return Err(Error::OutsideDomain {
            what: "number of values",
            value: sample.size(),
            allowed: "3 or more",
        });
    }
    let x = (0.5 - distance(sample, point)? * sample.size().sqrt() / (2.0 * sample.df())).clamp(0.0, 1.0);
    let a = 0.5 * (sample.size() - 2.0);
    checked_beta_reg(a, a, x).map_err(|_| Error::NoConvergence { what: "unbiased exceedance" })
}

/// The exact lower limit of the share above `point`.
///
/// `1 - Phi(delta / sqrt(n))`, where `delta` is the noncentrality at which `T` with `n - 1` degrees of freedom lies above `u sqrt(n)` with
/// probability `confidence`. One-sided; `confidence` from 1e-9 to 1 - 1e-9; `point` above 0. Relative error below 1e-11 (table
/// `exceedance-limits`). Source: Hahn-Meeker-1991, section 4.5. Fails with `OutsideDomain`.
pub fn lower(sample: &LogSample, point: f64, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    let t = statistic(sample, point)?;
    let (below, above) = (
        chi_squared::quantile(confidence, sample.df())?,
        chi_squared::quantile_upper(confidence, sample.df())?,
    );
    if let Some(share) = beyond_doubt(t, if t > 0.0 { below } else { above }, sample) {
        return Ok(share);
    }
    let centre = noncentral_t::noncentrality_upper(t, sample.df(), confidence)?;
    Ok(normal::upper(centre / sample.size().sqrt()))
}

/// The exact upper limit of the share above `point`: as [`lower`] with `T` below `u sqrt(n)`.
///
/// ```
/// use fullshift_stats::complete::{LogSample, exceedance};
/// // The point 2.911 standard deviations above the mean of ten logarithms (Hahn-Meeker-1991, table A.12) is exceeded by at most
/// // 5 % with 95 % confidence.
/// let sample = LogSample::from_statistics(10, 0.0, 1.0)?;
/// assert!((exceedance::upper(&sample, 2.911f64.exp(), 0.95)? - 0.05).abs() < 1e-5);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn upper(sample: &LogSample, point: f64, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    let t = statistic(sample, point)?;
    let (below, above) = (
        chi_squared::quantile(confidence, sample.df())?,
        chi_squared::quantile_upper(confidence, sample.df())?,
    );
    if let Some(share) = beyond_doubt(t, if t > 0.0 { above } else { below }, sample) {
        return Ok(share);
    }
    let centre = noncentral_t::noncentrality(t, sample.df(), confidence)?;
    Ok(normal::upper(centre / sample.size().sqrt()))
}

/// The limit where it is 0 or 1 to the last digit of a double: so far out that the noncentrality is `t` times the share of the standard
/// deviation whose chi-squared point is given, give or take a few.
fn beyond_doubt(t: f64, chi_squared_point: f64, sample: &LogSample) -> Option<f64> {
    let deviations = t * (chi_squared_point / sample.df()).sqrt() / sample.size().sqrt();
    (deviations.abs() > 60.0).then_some(if deviations > 0.0 { 0.0 } else { 1.0 })
}

/// How many standard deviations the point lies above the mean of the logarithms.
fn distance(sample: &LogSample, point: f64) -> Result<f64> {
    if !(point > 0.0 && point.is_finite()) {
        return Err(Error::OutsideDomain {
            what: "point to be exceeded",
            value: point,
            allowed: "above 0 and finite",
        });
    }
    Ok(((point.ln() - sample.mean_ln()) / sample.sd_ln()).clamp(-FAR, FAR))
}

fn statistic(sample: &LogSample, point: f64) -> Result<f64> {
    Ok((distance(sample, point)? * sample.size().sqrt()).clamp(-FAR, FAR))
}
