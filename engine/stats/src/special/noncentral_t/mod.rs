//! The noncentral t distribution: both tails, quantiles, and the noncentrality that puts a given probability beyond a point.
//!
//! `T = (Z + delta) / S` with `Z` standard normal and `S` independent, `nu S^2` chi-squared with `nu` degrees of freedom.
//! Conditional on `S` the tail is a normal tail, so that
//!
//! `P(T <= t) = integral of Phi(t e^u - delta) f(u) du` over all real `u`, with `u = ln S` and
//! `f(u) = sqrt(nu/pi) exp(-R(nu/2)) exp(-(nu/2)(e^(2u) - 1 - 2u))`, `R` being Stirling's remainder.
//!
//! The integrand has one peak and falls off at least exponentially, so the trapezoidal rule converges exponentially; the step
//! is halved until two rules agree. The smaller tail is always the one computed, and the derivatives in `t` and `delta` come
//! with it. For few, whole degrees of freedom and tails that are not small a finite sum gives the same ten times sooner.

mod finite;
mod integral;
mod solve;

use crate::{Error, Result};
use integral::Tail;

pub use solve::{noncentrality, noncentrality_upper, quantile, quantile_upper};

pub(crate) const ALLOWED_DF: &str = "from 1 to 1e9";
const ALLOWED_NONCENTRALITY: &str = "from -1e5 to 1e5";

/// Refuses degrees of freedom and noncentrality outside the domain.
fn check(df: f64, noncentrality: f64) -> Result<()> {
    check_df(df)?;
    if noncentrality.is_nan() || noncentrality.abs() > 1e5 {
        let allowed = ALLOWED_NONCENTRALITY;
        return Err(Error::OutsideDomain { what: "noncentrality", value: noncentrality, allowed });
    }
    Ok(())
}

fn check_df(df: f64) -> Result<()> {
    if !(1.0..=1e9).contains(&df) {
        return Err(Error::OutsideDomain { what: "degrees of freedom", value: df, allowed: ALLOWED_DF });
    }
    Ok(())
}

fn check_point(t: f64) -> Result<()> {
    if t.is_nan() || t.abs() > 1e12 {
        return Err(Error::OutsideDomain { what: "point t", value: t, allowed: "from -1e12 to 1e12" });
    }
    Ok(())
}

/// Both tails at one point: the smaller integrated directly, the larger as its complement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tails {
    /// Probability below the point.
    pub lower: f64,
    /// Probability above the point.
    pub upper: f64,
    /// Density at the point: the derivative of `lower` in `t`.
    pub density: f64,
    /// How fast `upper` grows with the noncentrality.
    pub upper_per_noncentrality: f64,
}

/// Both tails, the density and the derivative in the noncentrality, at `t`.
///
/// Domain: `df` from 1 to 1e9, not necessarily whole; |`noncentrality`| at most 1e5; |`t`| at most 1e12. Relative error of
/// either tail below 1e-11 for `df` to 1e5 and |`noncentrality`| to 200, tails down to 1e-290 (tables `noncentral-t-tails`
/// and `noncentral-t-far-tails`). Fails with `OutsideDomain`, or with `NoConvergence` should 22 halvings not settle it.
///
/// ```
/// // A one-sided normal tolerance factor, 10 values, 95 % confidence, 95th percentile, is 2.911 in print
/// // (Hahn-Meeker-1991, table A.12): T with 9 degrees of freedom lies below 2.911 sqrt(10) with probability 0.95.
/// let ncp = 1.6448536269514722 * 10f64.sqrt();
/// let tails = fullshift_stats::special::noncentral_t::tails(2.911 * 10f64.sqrt(), 9.0, ncp)?;
/// assert!((tails.lower - 0.95).abs() < 0.0001);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn tails(t: f64, df: f64, noncentrality: f64) -> Result<Tails> {
    check(df, noncentrality)?;
    check_point(t)?;
    let tail = integral::smaller(t, df, noncentrality)?;
    Ok(from_tail(&tail))
}

fn from_tail(tail: &Tail) -> Tails {
    let small = tail.probability();
    let (lower, upper) = if tail.is_upper { (1.0 - small, small) } else { (small, 1.0 - small) };
    let scale = tail.ln_scale.exp();
    Tails {
        lower,
        upper,
        density: tail.per_t * scale,
        upper_per_noncentrality: tail.per_noncentrality * scale,
    }
}

/// Probability below `t`; domain and accuracy as of [`tails`].
pub fn lower(t: f64, df: f64, noncentrality: f64) -> Result<f64> {
    tails(t, df, noncentrality).map(|t| t.lower)
}

/// Probability above `t`; domain and accuracy as of [`tails`].
pub fn upper(t: f64, df: f64, noncentrality: f64) -> Result<f64> {
    tails(t, df, noncentrality).map(|t| t.upper)
}

/// Density at `t`; domain as of [`tails`].
pub fn density(t: f64, df: f64, noncentrality: f64) -> Result<f64> {
    tails(t, df, noncentrality).map(|t| t.density)
}

#[cfg(test)]
mod tests;
