//! The standard normal distribution: density, both tails and their logarithms, quantile, hazard.

use super::mills::{FRAC_1_SQRT_2PI, LN_SQRT_2PI, is_near_zero, ratio_away, upper_near_zero};
use crate::{Error, Result};
use statrs::distribution::{ContinuousCDF, Normal};

/// Density at `x`: `exp(-x^2/2) / sqrt(2 pi)`. Zero at either infinity.
pub fn density(x: f64) -> f64 {
    FRAC_1_SQRT_2PI * half_square_exp(x)
}

/// Logarithm of the density at `x`.
pub fn log_density(x: f64) -> f64 {
    -0.5 * x * x - LN_SQRT_2PI
}

/// `exp(-x^2/2)` with the rounding error of the square taken out.
fn half_square_exp(x: f64) -> f64 {
    if x.abs() > 39.0 {
        return 0.0;
    }
    let coarse = (x * 16.0).trunc() / 16.0;
    (-0.5 * coarse * coarse).exp() * (-0.5 * (x - coarse) * (x + coarse)).exp()
}

/// Probability below `x`.
///
/// `Phi(x) = integral of exp(-u^2/2) / sqrt(2 pi) from minus infinity to x`. Relative error below 5e-16 for every `x` at
/// which the result is a normal number (table `normal-tails`). Source: Cody-1969.
///
/// ```
/// // Abramowitz and Stegun, table 26.1: P(1.00) = 0.84134 47460 68543
/// assert!((fullshift_stats::special::normal::lower(1.0) - 0.841_344_746_068_543).abs() < 5e-16);
/// ```
pub fn lower(x: f64) -> f64 {
    upper(-x)
}

/// Probability above `x`; as accurate as [`lower`], also where it is tiny.
pub fn upper(x: f64) -> f64 {
    if is_near_zero(x) { upper_near_zero(x) } else { lower_and_density(-x).0 }
}

/// [`lower`] and [`density`] at `x`, for little more than the price of one.
pub(crate) fn lower_and_density(x: f64) -> (f64, f64) {
    let density = density(x);
    let lower = if is_near_zero(x) {
        upper_near_zero(-x)
    } else if x < 0.0 {
        density * ratio_away(-x)
    } else {
        1.0 - density * ratio_away(x)
    };
    (lower, density)
}

/// Logarithm of the probability below `x`, for any finite `x` (to |x| = 1e8 and beyond without loss).
pub fn log_lower(x: f64) -> f64 {
    log_upper(-x)
}

/// Logarithm of the probability above `x`, for any finite `x`.
pub fn log_upper(x: f64) -> f64 {
    if is_near_zero(x) {
        upper_near_zero(x).ln()
    } else if x > 0.0 {
        log_density(x) + ratio_away(x).ln()
    } else {
        (-density(x) * ratio_away(-x)).ln_1p()
    }
}

/// The hazard: density at `x` over the probability above `x` (the inverse Mills ratio of the upper tail).
///
/// Grows like `x` to the right and falls like the density to the left; never overflows.
pub fn hazard_upper(x: f64) -> f64 {
    if is_near_zero(x) {
        density(x) / upper_near_zero(x)
    } else if x > 0.0 {
        1.0 / ratio_away(x)
    } else {
        density(x) / upper(x)
    }
}

/// Density at `x` over the probability below `x` (the inverse Mills ratio of the lower tail).
pub fn hazard_lower(x: f64) -> f64 {
    hazard_upper(-x)
}

/// The point with probability `p` below it, for `p` in (0, 1).
///
/// Source: Wichura, AS 241, as in `statrs`; within two units in the last place (table `normal-quantile`).
pub fn quantile(p: f64) -> Result<f64> {
    if p > 0.0 && p < 1.0 {
        Ok(Normal::standard().inverse_cdf(p))
    } else {
        Err(Error::OutsideDomain { what: "probability", value: p, allowed: "between 0 and 1, both excluded" })
    }
}

/// The point with probability `exp(ln_p)` below it, for `ln_p` below zero: serves where the probability itself would be zero.
pub fn quantile_of_log(ln_p: f64) -> Result<f64> {
    if ln_p > -650.0 {
        return quantile(ln_p.exp().min(1.0 - 0.5 * f64::EPSILON));
    }
    if !ln_p.is_finite() {
        return Err(Error::OutsideDomain {
            what: "logarithm of a probability",
            value: ln_p,
            allowed: "finite",
        });
    }
    let mut z = -(-2.0 * ln_p).sqrt();
    for _ in 0..6 {
        z -= (log_lower(z) - ln_p) / hazard_lower(z);
    }
    Ok(z)
}

/// The point with probability `p` above it, for `p` in (0, 1).
pub fn quantile_upper(p: f64) -> Result<f64> {
    quantile(p).map(|z| -z)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails_add_to_one_and_meet_their_logarithms() {
        for i in -3000..=3000 {
            let x = f64::from(i) / 100.0;
            assert!((lower(x) + upper(x) - 1.0).abs() < 3e-16, "{x}");
            let tail = upper(x);
            assert!((log_upper(x) - tail.ln()).abs() < 1e-15 * (1.0 + tail.ln().abs()), "{x}");
        }
    }

    #[test]
    fn logarithms_stay_finite_a_hundred_million_deviations_out() {
        assert!((log_upper(1e8) / -5e15 - 1.0).abs() < 5e-15);
        assert_eq!(log_upper(-1e8), 0.0);
        assert!((hazard_upper(1e8) / 1e8 - 1.0).abs() < 1e-15);
        assert_eq!(hazard_upper(-1e8), 0.0);
    }
}
