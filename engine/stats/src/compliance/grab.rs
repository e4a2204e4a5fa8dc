//! Short samples drawn at random times of the period.

use super::{Ratio, limit, within};
use crate::complete::{LogSample, arithmetic_mean, check_confidence};
use crate::numeric::sum::mean_and_squares;
use crate::special::normal;
use crate::{Error, Result};

/// Fewer than 30 grab samples: lognormal, with exact limits of the mean.
///
/// `ratio` is the mean of `X_i / L`, the limits are Land's of the lognormal mean. The manual reads the finding off a chart of the mean and
/// standard deviation of `log10(X_i / L)`; the exact limits stand for the chart. Two values or more, positive, not all equal. Table
/// `shift-grab-printed`. Sources: NIOSH-77-173, section 4.2.3 (data recalled); Land-1971. Fails with `OutsideDomain` or `NoConvergence`.
pub fn few_grab_samples(values: &[f64], limit_value: f64, confidence: f64) -> Result<Ratio> {
    let limit_value = limit(limit_value)?;
    let ratios: Vec<f64> = values.iter().map(|x| x / limit_value).collect();
    let sample = LogSample::from_values(&ratios)?;
    Ok(Ratio {
        ratio: mean_and_squares(&ratios).0,
        lower: arithmetic_mean::lower(&sample, confidence)?,
        upper: arithmetic_mean::upper(&sample, confidence)?,
    })
}

/// Thirty grab samples or more: the mean is taken to be normal.
///
/// `xbar -+ z s / sqrt(n)` of `x_i = X_i / L`, `s` with `n - 1`, `z` the normal quantile of `confidence`. Source: NIOSH-77-173, section 4.2.3 (recalled; no printed
/// figures claimed). Refuses fewer than 30 values, and values that are negative or not finite.
pub fn many_grab_samples(values: &[f64], limit_value: f64, confidence: f64) -> Result<Ratio> {
    check_confidence(confidence)?;
    let limit_value = limit(limit_value)?;
    if values.len() < 30 {
        let value = values.len() as f64;
        return Err(Error::OutsideDomain { what: "number of grab samples", value, allowed: "30 or more" });
    }
    for &value in values {
        within("concentration", value, 0.0, 1e150, "from 0 to 1e150")?;
    }
    let ratios: Vec<f64> = values.iter().map(|x| x / limit_value).collect();
    let (mean, squares) = mean_and_squares(&ratios);
    let n = values.len() as f64;
    let error = normal::quantile(confidence)?.max(0.0) * (squares / (n - 1.0) / n).sqrt();
    if !(mean + error).is_finite() {
        return Err(Error::OutsideDomain {
            what: "largest ratio to the limit",
            value: mean,
            allowed: "below 1e150",
        });
    }
    Ok(Ratio::around(mean, error))
}
