//! The arithmetic mean of a lognormal distribution: Finney's estimate without bias, and Land's exact limits.

use super::land::{self, Location};
use super::{LogSample, figure_from_ln};
use crate::{Error, Result};

/// The estimate of the arithmetic mean that has no bias and the smallest variance.
///
/// `exp(ybar) psi_n(s^2/2)`, with `ybar` and `s` mean and standard deviation of the logarithms. Relative error below 1e-13 (tables
/// `finney-psi`, `lognormal-estimates`). Source: Finney-1941. Fails where the mean exceeds the range of a double.
pub fn estimate(sample: &LogSample) -> Result<f64> {
    figure_from_ln("arithmetic mean", ln_estimate(&Location::of_sample(sample))?)
}

/// The logarithm of that estimate, for a location whose standard error need not come from a plain sample.
///
/// `l + ln 0F1(; v/2; v s^2 (1 - 1/n) / 4)`: unbiased for `exp(mu + sigma^2/2)` when `l` is normal with mean `mu` and variance
/// `sigma^2/n`, and `v s^2/sigma^2` is chi-squared with `v` degrees of freedom, independent of `l`. For `n >= 1`.
pub fn ln_estimate(location: &Location) -> Result<f64> {
    if location.effective_n() < 1.0 {
        let value = location.effective_n();
        return Err(Error::OutsideDomain { what: "effective number", value, allowed: "1 or more" });
    }
    let (v, s) = (location.df(), location.sd_ln());
    let z = 0.25 * v * s * s * (1.0 - 1.0 / location.effective_n());
    Ok(location.ln() + ln_hypergeometric(0.5 * v, z)?)
}

/// Finney's function `psi_n(t) = 0F1(; (n-1)/2; (n-1)^2 t / (2 n))`, for `n >= 2` and `t >= 0`.
///
/// ```
/// // psi_n(t) for n = 10, t = 0.5: 1.542 (Gilbert-1987, table A9)
/// let psi = fullshift_stats::complete::arithmetic_mean::finney_psi(10, 0.5)?;
/// assert!((psi - 1.542).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn finney_psi(n: usize, t: f64) -> Result<f64> {
    if n < 2 {
        return Err(Error::OutsideDomain { what: "number of values", value: n as f64, allowed: "2 or more" });
    }
    if !(0.0..=1e12).contains(&t) {
        return Err(Error::OutsideDomain {
            what: "argument of Finney's function",
            value: t,
            allowed: "from 0 to 1e12",
        });
    }
    let v = n as f64 - 1.0;
    figure_from_ln("Finney's function", ln_hypergeometric(0.5 * v, v * v * t / (2.0 * n as f64))?)
}

/// The exact lower limit of the arithmetic mean; see [`land::ln_mean_lower`]. One-sided, `confidence` from 1e-9 to 1 - 1e-9.
pub fn lower(sample: &LogSample, confidence: f64) -> Result<f64> {
    figure_from_ln(
        "lower limit of the arithmetic mean",
        land::ln_mean_lower(&Location::of_sample(sample), confidence)?,
    )
}

/// The exact upper limit of the arithmetic mean; see [`land::ln_mean_upper`].
///
/// Fails where the limit exceeds the range of a double, which two or three scattered values bring about; its logarithm can still be had.
pub fn upper(sample: &LogSample, confidence: f64) -> Result<f64> {
    figure_from_ln(
        "upper limit of the arithmetic mean",
        land::ln_mean_upper(&Location::of_sample(sample), confidence)?,
    )
}

/// `ln 0F1(; b; z)` for `b` above 0 and `z >= 0`: the power series, all terms positive, scaled down before it overflows.
fn ln_hypergeometric(b: f64, z: f64) -> Result<f64> {
    const LARGE: f64 = 1e250;
    let (mut term, mut sum, mut ln_scale) = (1.0, 1.0, 0.0);
    for k in 1..50_000_000_u32 {
        let k = f64::from(k);
        term *= z / (k * (b + k - 1.0));
        sum += term;
        if term <= 1e-17 * sum && k * (b + k) > z {
            return Ok(ln_scale + f64::ln(sum));
        }
        if sum > LARGE {
            term /= LARGE;
            sum /= LARGE;
            ln_scale += LARGE.ln();
        }
    }
    Err(Error::NoConvergence { what: "series of the arithmetic mean" })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `0F1(; 1/2; x^2/4) = cosh x` and `0F1(; 3/2; x^2/4) = sinh x / x`: the series of two and of four values, beyond 1e250 too.
    #[test]
    fn finneys_function_of_two_and_four_values_is_hyperbolic() {
        for x in [0.5_f64, 20.0, 300.0, 574.0, 600.0, 700.0] {
            let (two, four) = (finney_psi(2, x * x).unwrap(), finney_psi(4, 2.0 / 9.0 * x * x).unwrap());
            assert!((two / x.cosh() - 1.0).abs() < 1e-12, "{x}: {two}");
            assert!((four / (x.sinh() / x) - 1.0).abs() < 1e-12, "{x}: {four}");
        }
    }
}
