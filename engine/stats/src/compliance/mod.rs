//! The published one-sided tests of one shift against its limit, and the reduction of limits for long shifts.
//!
//! All figures are ratios to the limit. A test gives a ratio with its one-sided lower and upper confidence limits and finds
//! [`Finding::Below`] where the upper is at most 1, [`Finding::Above`] where the lower is above 1, and otherwise
//! [`Finding::Undecided`].
//!
//! Sources: NIOSH-77-173 (Leidel, Busch, Lynch, Occupational Exposure Sampling Strategy Manual, 1977), section 4.2; OTM (OSHA Technical Manual,
//! section II, chapter 1); Brief-Scala-1975; 29 CFR 1910.1025(c)(2).

pub(crate) mod answers;
mod grab;
mod long_shift;
mod mixture;
mod samples;

pub use grab::{few_grab_samples, many_grab_samples};
pub use long_shift::{daily_reduction, lead_style_reduction, weekly_reduction};
pub use mixture::{Component, MixtureIndex, mixture};
pub use samples::{
    Sample, consecutive_samples, consecutive_samples_uniform, consecutive_samples_varying, sampling_error,
    single_sample,
};

use crate::{Error, Result};

/// A ratio to the limit with its one-sided limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratio {
    /// The estimate over the limit.
    pub ratio: f64,
    /// Its lower confidence limit; below 0 where the error is as large as the value.
    pub lower: f64,
    /// Its upper confidence limit.
    pub upper: f64,
}

/// What a test finds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finding {
    /// The upper limit is at most 1.
    Below,
    /// The lower limit is above 1.
    Above,
    /// Neither.
    Undecided,
}

impl Ratio {
    /// What the test finds.
    pub fn finding(&self) -> Finding {
        if self.lower > 1.0 {
            Finding::Above
        } else if self.upper <= 1.0 {
            Finding::Below
        } else {
            Finding::Undecided
        }
    }

    fn around(ratio: f64, error: f64) -> Ratio {
        Ratio { ratio, lower: ratio - error, upper: ratio + error }
    }
}

fn within(what: &'static str, value: f64, low: f64, high: f64, allowed: &'static str) -> Result<f64> {
    if (low..=high).contains(&value) { Ok(value) } else { Err(Error::OutsideDomain { what, value, allowed }) }
}

fn limit(value: f64) -> Result<f64> {
    within("limit", value, 1e-150, 1e150, "from 1e-150 to 1e150")
}

fn concentration(value: f64) -> Result<f64> {
    within("concentration", value, 0.0, 1e150, "from 0 to 1e150")
}

fn error_share(value: f64) -> Result<f64> {
    within("sampling and analytical error", value, 0.0, 10.0, "from 0 to 10")
}
