//! Land's exact limits for the mean of a lognormal distribution.
//!
//! For a trial mean `exp(m)` put `sinh y = sqrt(n) (l - m) / (sqrt(v) s)`. If `m` is true then, given
//! `R^2 = v s^2 + n (l - m)^2`, the statistic `x = tanh`-coordinate of `y` has a density known to the last constant: in that coordinate
//! `h(x) = sech(x)^v exp(-a tanh x)`, `a = (sqrt(v n) s / 2) cosh y`. With `F(y)` the share of the integral of `h` below `y`, the lower limit
//! solves `F = confidence` and the upper `F = 1 - confidence`. In Land's own coordinate `w = tanh y` this is the density proportional to
//! `(1 - w^2)^((v-2)/2) exp(-a w)`; the hyperbolic one has no end points and loses no digits near them. `v` and `n` need not be
//! whole.
//!
//! Sources: Land-1971, Land-1975.

mod integral;
mod solve;

use super::{LogSample, check_confidence};
use crate::{Error, Result};

/// A location on the logarithmic scale with what is known of its error: `l` normal with variance `sigma^2 / n`, and `s^2` an independent
/// estimate of `sigma^2` with `v` degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Location {
    ln: f64,
    sd_ln: f64,
    df: f64,
    effective_n: f64,
}

impl Location {
    /// Of a complete sample: the mean of its logarithms, `n` values, `n - 1` degrees of freedom.
    pub fn of_sample(sample: &LogSample) -> Location {
        Location { ln: sample.mean_ln(), sd_ln: sample.sd_ln(), df: sample.df(), effective_n: sample.size() }
    }

    /// From its parts: location `ln` (|ln| at most 1e6), `sd_ln` above 0 and at most 1100, `df` from 1 to 1e9 and `effective_n` from 0.01 to
    /// 1e9, neither necessarily whole.
    pub fn new(ln: f64, sd_ln: f64, df: f64, effective_n: f64) -> Result<Location> {
        within("location", ln, -1e6, 1e6, "from -1e6 to 1e6")?;
        within(
            "standard deviation of the logarithms",
            sd_ln,
            f64::MIN_POSITIVE,
            1100.0,
            "above 0 and at most 1100",
        )?;
        within("degrees of freedom", df, 1.0, 1e9, "from 1 to 1e9")?;
        within("effective number", effective_n, 0.01, 1e9, "from 0.01 to 1e9")?;
        Ok(Location { ln, sd_ln, df, effective_n })
    }

    /// The location.
    pub fn ln(&self) -> f64 {
        self.ln
    }

    /// The standard deviation `s`.
    pub fn sd_ln(&self) -> f64 {
        self.sd_ln
    }

    /// The degrees of freedom `v` of `s^2`.
    pub fn df(&self) -> f64 {
        self.df
    }

    /// The number `n` by which the variance of the location is smaller than `sigma^2`.
    pub fn effective_n(&self) -> f64 {
        self.effective_n
    }
}

fn within(what: &'static str, value: f64, low: f64, high: f64, allowed: &'static str) -> Result<()> {
    if (low..=high).contains(&value) { Ok(()) } else { Err(Error::OutsideDomain { what, value, allowed }) }
}

/// The logarithm of the exact lower limit of the mean `exp(mu + sigma^2/2)`.
///
/// The `m` at which `F` (see the module) equals `confidence`. One-sided, `confidence` from 1e-9 to 1 - 1e-9. Absolute error of
/// `(limit - l) / s` below 1e-11 of itself for `v` from 1 to 1e5 and `s` from 0.01 to 10 (tables `land-*`). Sources: Land-1971, Land-1975. Fails
/// with `OutsideDomain` or `NoConvergence`.
pub fn ln_mean_lower(location: &Location, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    solve::ln_limit(location, confidence, false)
}

/// The logarithm of the exact upper limit of the mean; see [`ln_mean_lower`]: the `m` at which `F` equals `1 - confidence`.
///
/// ```
/// use fullshift_stats::complete::land::{Location, ln_mean_upper};
/// // USEPA 1992, Publication 9285.7-081, highlight 7: H = 3.163 for 15 values and s = 1.25 (recalled); the limit is
/// // l + s^2/2 + s H / sqrt(n - 1).
/// let upper = ln_mean_upper(&Location::new(0.0, 1.25, 14.0, 15.0)?, 0.95)?;
/// let h = (upper - 1.25f64.powi(2) / 2.0) / 1.25 * 14f64.sqrt();
/// assert!((h - 3.163).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn ln_mean_upper(location: &Location, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    solve::ln_limit(location, confidence, true)
}
