//! Complete lognormal samples: every value known, none censored.
//!
//! Every limit is one-sided: `_lower(..., confidence)` lies below the true figure with that confidence, `_upper` above it. A two-sided
//! 90 % interval is the pair at 0.95. [`LogSample`] holds what a sample tells; figures take it, or the bare statistics where
//! those need not come from a sample.

pub mod arithmetic_mean;
pub mod exceedance;
pub mod geometric_mean;
pub mod geometric_sd;
pub mod land;
pub mod order_statistics;
pub mod percentile;
mod sample;
pub mod share_by_count;

pub use sample::LogSample;

use crate::{Error, Result};

/// Refuses a confidence at which no limit is meant.
pub(crate) fn check_confidence(confidence: f64) -> Result<()> {
    if (1e-9..=1.0 - 1e-9).contains(&confidence) {
        return Ok(());
    }
    Err(Error::OutsideDomain { what: "confidence", value: confidence, allowed: "from 1e-9 to 1 - 1e-9" })
}

/// The figure with this natural logarithm, where a double can hold it at full precision.
pub(crate) fn figure_from_ln(what: &'static str, ln: f64) -> Result<f64> {
    let figure = ln.exp();
    if figure.is_finite() && figure >= f64::MIN_POSITIVE {
        return Ok(figure);
    }
    let allowed = "a figure between 1e-307 and 1e308 (the value given is its logarithm)";
    Err(Error::OutsideDomain { what, value: ln, allowed })
}
