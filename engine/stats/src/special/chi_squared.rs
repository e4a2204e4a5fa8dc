//! The chi-squared distribution: both tails and the quantile from either side.

use super::{gamma, normal};
use crate::{Error, Result};

/// Probability below `x` with `df` degrees of freedom (not necessarily whole).
///
/// `P(df/2, x/2)`, the regularised incomplete gamma function. Domain: `df` above 0, at most 2e9; `x` 0 or more.
pub fn lower(x: f64, df: f64) -> Result<f64> {
    gamma::lower(0.5 * df, 0.5 * x)
}

/// Probability above `x` with `df` degrees of freedom.
pub fn upper(x: f64, df: f64) -> Result<f64> {
    gamma::upper(0.5 * df, 0.5 * x)
}

/// The point with probability `p` below it.
///
/// Newton's method on the logarithm of the smaller tail, started from Wilson and Hilferty's cube. Relative error below 1e-13
/// (table `chi-squared-quantile`). Domain: `df` above 0; `p` in (0, 1). Sources: Wilson-Hilferty-1931; gamma function as
/// in [`gamma`].
///
/// ```
/// // Abramowitz and Stegun, table 26.8: 10 degrees of freedom, 0.05 above: 18.307
/// let x = fullshift_stats::special::chi_squared::quantile(0.95, 10.0)?;
/// assert!((x - 18.307).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn quantile(p: f64, df: f64) -> Result<f64> {
    if !(p > 0.0 && p < 1.0) {
        return Err(Error::OutsideDomain {
            what: "probability",
            value: p,
            allowed: "between 0 and 1, both excluded",
        });
    }
    solve(p, p > 0.5, 1.0 - p, df)
}

/// The point with probability `p` above it; keeps its digits for tiny `p`.
pub fn quantile_upper(p: f64, df: f64) -> Result<f64> {
    if !(p > 0.0 && p < 1.0) {
        return Err(Error::OutsideDomain {
            what: "probability",
            value: p,
            allowed: "between 0 and 1, both excluded",
        });
    }
    solve(1.0 - p, p <= 0.5, p, df)
}

/// Newton on the logarithm of a tail over the logarithm of the point: the lower tail at or below one half, else the upper.
fn solve(below: f64, use_upper: bool, above: f64, df: f64) -> Result<f64> {
    let a = 0.5 * df;
    gamma::both(a, a)?;
    let mut x = start(if use_upper { above } else { below }, use_upper, a)?;
    let (mut low, mut high) = (0.0_f64, f64::INFINITY);
    for _ in 0..100 {
        let (lower, upper) = gamma::both(a, x)?;
        let (tail, target, sign) = if use_upper { (upper, above, -1.0) } else { (lower, below, 1.0) };
        let off = sign * (tail / target).ln();
        if off > 0.0 {
            high = high.min(x)
        } else {
            low = low.max(x)
        }
        // d ln tail / d ln x = x density / tail
        let slope = (a * x.ln() - x - ln_gamma(a)).exp() / tail;
        let mut next = x * (-off / slope).clamp(-3.0, 3.0).exp();
        if !(next >= low && next <= high) {
            next = if high.is_finite() { 0.5 * (low + high) } else { 2.0 * x };
        }
        let moved = (next - x).abs();
        x = next;
        if moved <= 1e-9 * x {
            return Ok(2.0 * polished(x, a, use_upper, if use_upper { above } else { below })?);
        }
    }
    Err(Error::NoConvergence { what: "chi-squared quantile" })
}

/// One more step, after which the quadratic convergence has nothing left to gain.
fn polished(x: f64, a: f64, use_upper: bool, target: f64) -> Result<f64> {
    let (lower, upper) = gamma::both(a, x)?;
    let slope = (a * x.ln() - x - ln_gamma(a)).exp();
    let (tail, sign) = if use_upper { (upper, -1.0) } else { (lower, 1.0) };
    let step = sign * (tail - target) / slope;
    Ok(if step.is_finite() { x * (1.0 - step) } else { x })
}

fn ln_gamma(a: f64) -> f64 {
    libm::lgamma(a)
}

/// Wilson and Hilferty's approximation, or the leading term of the series where that fails.
fn start(tail: f64, is_upper: bool, a: f64) -> Result<f64> {
    let z = if is_upper { -normal::quantile(tail)? } else { normal::quantile(tail)? };
    let ninth = 1.0 / (9.0 * a);
    let cube = 1.0 - ninth + z * ninth.sqrt();
    if cube > 0.3 {
        return Ok(a * cube * cube * cube);
    }
    let leading = ((tail.ln() + ln_gamma(a + 1.0)) / a).exp();
    Ok(leading.clamp(f64::MIN_POSITIVE, a.max(1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_quantile_inverts_both_tails() {
        for df in [1.0, 2.0, 5.5, 29.0, 1000.0, 1e5] {
            for p in [1e-12, 1e-3, 0.05, 0.3, 0.5, 0.7, 0.95] {
                let below = lower(quantile(p, df).unwrap(), df).unwrap();
                let above = upper(quantile_upper(p, df).unwrap(), df).unwrap();
                assert!((below / p - 1.0).abs() < 2e-12, "{df} {p}: {below}");
                assert!((above / p - 1.0).abs() < 2e-12, "{df} {p}: {above}");
            }
        }
    }

    /// A power of two and what is left to one are both exact.
    #[test]
    fn a_point_is_the_same_from_either_side() {
        for df in [0.7, 3.0, 40.0] {
            for q in [0.25, 2f64.powi(-10), 2f64.powi(-30), 2f64.powi(-50)] {
                let (from_below, from_above) =
                    (quantile(1.0 - q, df).unwrap(), quantile_upper(q, df).unwrap());
                assert!((from_below / from_above - 1.0).abs() < 1e-13, "{df} {q}: {from_below} {from_above}");
            }
        }
    }

    #[test]
    fn probabilities_outside_the_open_interval_are_refused() {
        for p in [0.0, 1.0, -0.1, f64::NAN] {
            assert!(quantile(p, 3.0).is_err() && quantile_upper(p, 3.0).is_err());
        }
        assert!(quantile(0.5, 0.0).is_err() && quantile(0.5, f64::NAN).is_err());
    }
}
