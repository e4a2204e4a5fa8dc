//! What a complete sample tells about a lognormal distribution.

use crate::numeric::sum::mean_and_squares;
use crate::{Error, Result};

/// Number, mean and standard deviation of the logarithms of a complete sample: all that the exact methods need.
///
/// Only samples that support an interval exist: two values or more, not all equal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogSample {
    n: usize,
    mean_ln: f64,
    sd_ln: f64,
}

impl LogSample {
    /// The sample of these positive values.
    ///
    /// Logarithms are taken of the ratio to the first value, so that values close together keep their digits at any size;
    /// sums are compensated and go twice through the data. Fails with `OutsideDomain` on fewer than two values, on a value that is zero,
    /// negative or not finite, and where all values are equal.
    ///
    /// ```
    /// // USEPA 2009, Unified Guidance, example 17-3 (chrysene): mean log 2.5085773, log standard deviation 0.6279479
    /// let sample = fullshift_stats::complete::LogSample::from_values(&[19.7, 39.2, 7.8, 12.8, 10.2, 7.2, 16.1, 5.7])?;
    /// assert!((sample.mean_ln() - 2.508_577_3).abs() < 5e-8 && (sample.sd_ln() - 0.627_947_9).abs() < 5e-8);
    /// # Ok::<(), fullshift_stats::Error>(())
    /// ```
    pub fn from_values(values: &[f64]) -> Result<LogSample> {
        let first = *values.first().ok_or(too_few(0))?;
        for &value in values {
            if !(value > 0.0 && value.is_finite()) {
                return Err(Error::OutsideDomain {
                    what: "measured value",
                    value,
                    allowed: "above 0 and finite",
                });
            }
        }
        let ratios: Vec<f64> = values.iter().map(|&v| ln_ratio(v, first)).collect();
        let (mean, squares) = mean_and_squares(&ratios);
        LogSample::from_moments(values.len(), first.ln() + mean, squares)
    }

    /// The sample whose values have these natural logarithms.
    pub fn from_ln(ln_values: &[f64]) -> Result<LogSample> {
        if let Some(&value) = ln_values.iter().find(|v| !v.is_finite()) {
            return Err(Error::OutsideDomain {
                what: "logarithm of a measured value",
                value,
                allowed: "finite",
            });
        }
        let (mean, squares) = mean_and_squares(ln_values);
        LogSample::from_moments(ln_values.len(), mean, squares)
    }

    /// A sample known only by its statistics: `n` values, the mean of their logarithms and the standard deviation with `n - 1`.
    pub fn from_statistics(n: usize, mean_ln: f64, sd_ln: f64) -> Result<LogSample> {
        if n < 2 {
            return Err(too_few(n));
        }
        if mean_ln.is_nan() || mean_ln.abs() > 1000.0 {
            return Err(Error::OutsideDomain {
                what: "mean of the logarithms",
                value: mean_ln,
                allowed: "from -1000 to 1000",
            });
        }
        if !(sd_ln > 0.0 && sd_ln <= 1100.0) {
            let what = "standard deviation of the logarithms";
            return Err(Error::OutsideDomain {
                what,
                value: sd_ln,
                allowed: "above 0 and at most 1100 (values not all equal)",
            });
        }
        Ok(LogSample { n, mean_ln, sd_ln })
    }

    fn from_moments(n: usize, mean_ln: f64, squares: f64) -> Result<LogSample> {
        if n < 2 {
            return Err(too_few(n));
        }
        LogSample::from_statistics(n, mean_ln, (squares / (n as f64 - 1.0)).sqrt())
    }

    /// The number of values.
    pub fn n(&self) -> usize {
        self.n
    }

    /// The number of values as a number to calculate with.
    pub(crate) fn size(&self) -> f64 {
        self.n as f64
    }

    /// Degrees of freedom of the standard deviation: `n - 1`.
    pub fn df(&self) -> f64 {
        self.size() - 1.0
    }

    /// The mean of the natural logarithms.
    pub fn mean_ln(&self) -> f64 {
        self.mean_ln
    }

    /// The standard deviation of the natural logarithms, with `n - 1`.
    pub fn sd_ln(&self) -> f64 {
        self.sd_ln
    }
}

/// `ln(value / reference)`, also where the two are nearly equal or far apart.
fn ln_ratio(value: f64, reference: f64) -> f64 {
    let ratio = value / reference;
    if (0.5..=2.0).contains(&ratio) {
        ((value - reference) / reference).ln_1p()
    } else {
        value.ln() - reference.ln()
    }
}

fn too_few(n: usize) -> Error {
    Error::OutsideDomain { what: "number of values", value: n as f64, allowed: "2 or more" }
}
