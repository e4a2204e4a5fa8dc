//! The standard normal distribution.

use crate::{Error, Result};
use statrs::distribution::{ContinuousCDF, Normal};
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Density at `x`.
pub fn density(x: f64) -> f64 {
    (-0.5 * x * x).exp() / (2.0 * PI).sqrt()
}

/// Probability below `x`.
pub fn lower(x: f64) -> f64 {
    0.5 * libm::erfc(-x * FRAC_1_SQRT_2)
}

/// Probability above `x`.
pub fn upper(x: f64) -> f64 {
    lower(-x)
}

/// The point with probability `p` below it, for `p` in (0, 1).
pub fn quantile(p: f64) -> Result<f64> {
    if p > 0.0 && p < 1.0 {
        Ok(Normal::standard().inverse_cdf(p))
    } else {
        Err(Error::OutsideDomain { what: "probability", value: p, allowed: "between 0 and 1, both excluded" })
    }
}
