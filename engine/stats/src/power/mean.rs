//! The chance that Land's limits of the mean will lie on one side of a point.

use crate::complete::land::{Location, ln_mean_lower, ln_mean_upper};
use crate::numeric::quadrature::GAUSS_16;
use crate::special::{chi_squared, normal};
use crate::{Error, Result};
use statrs::function::gamma::ln_gamma;

/// Probability left out at each end of the standard deviation's distribution.
const LEFT_OUT: f64 = 1e-11;

/// Panels of 16 points over the standard deviation.
const PANELS: usize = 5;

/// The chance that Land's upper limit of the mean, from a sample yet to be drawn, will lie below a point.
///
/// The limit is `exp(ybar + g(s))`, `g` depending on `s` and `n` alone. Given `s` it lies below the point `P` when `ybar < ln P - g(s)`, and `ybar` is
/// normal about `mu` with the variance `sigma^2 / n`; over `s`, whose square times `(n - 1) / sigma^2` is chi-squared with `n - 1` degrees of
/// freedom, the chance is integrated by Gauss-Legendre panels:
///
/// `integral of Phi((gap - g(s)) sqrt(n) / sigma) f(s) ds`, `gap = ln P - mu`.
///
/// `n` from 3 to 1e6; `gap` any number; `sigma` from 0.01 to 10; one-sided `confidence` in (0, 1). Absolute error below 1e-6 (table
/// `power-mean`). Source: Land-1971 for the limit; the integral is elementary. Fails with `OutsideDomain` or `NoConvergence`.
///
/// ```
/// use fullshift_stats::power::mean::below;
/// // At the limit itself, where the point is the true mean exp(mu + sigma^2 / 2), an exact limit of 95 % confidence lies below it 5
/// // times in 100 (Land-1971: the coverage is exact).
/// assert!((below(10, 0.5 * 0.7f64.powi(2), 0.7, 0.95)? - 0.05).abs() < 1e-6);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn below(n: usize, gap: f64, sigma: f64, confidence: f64) -> Result<f64> {
    let limit = |location: &Location| ln_mean_upper(location, confidence);
    over_spreads(n, gap, sigma, normal::lower, limit)
}

/// The chance that Land's lower limit of the mean will lie above a point; see [`below`].
pub fn above(n: usize, gap: f64, sigma: f64, confidence: f64) -> Result<f64> {
    let limit = |location: &Location| ln_mean_lower(location, confidence);
    over_spreads(n, gap, sigma, normal::upper, limit)
}

/// The mean of `tail((gap - limit) sqrt(n) / sigma)` over the distribution of the sample's standard deviation.
fn over_spreads(
    n: usize,
    gap: f64,
    sigma: f64,
    tail: impl Fn(f64) -> f64,
    limit: impl Fn(&Location) -> Result<f64>,
) -> Result<f64> {
    check(n, gap, sigma)?;
    let df = n as f64 - 1.0;
    let root = |x: f64| (x / df).sqrt();
    let (low, high) =
        (root(chi_squared::quantile(LEFT_OUT, df)?), root(chi_squared::quantile_upper(LEFT_OUT, df)?));
    let ln_scale = std::f64::consts::LN_2 + 0.5 * df * (0.5 * df).ln() - ln_gamma(0.5 * df);
    let width = (high - low) / PANELS as f64;
    let mut total = 0.0;
    for panel in 0..PANELS {
        let from = low + width * panel as f64;
        for (ratio, weight) in GAUSS_16.on(from, from + width) {
            let density = (ln_scale + (df - 1.0) * ratio.ln() - 0.5 * df * ratio * ratio).exp();
            let location = Location::new(0.0, sigma * ratio, df, n as f64)?;
            total += weight * density * tail((gap - limit(&location)?) * (n as f64).sqrt() / sigma);
        }
    }
    Ok(total.clamp(0.0, 1.0))
}

fn check(n: usize, gap: f64, sigma: f64) -> Result<()> {
    if !(3..=1_000_000).contains(&n) {
        return Err(Error::OutsideDomain {
            what: "number of values",
            value: n as f64,
            allowed: "from 3 to 1e6",
        });
    }
    if gap.is_nan() {
        return Err(Error::OutsideDomain { what: "gap to the point", value: gap, allowed: "a number" });
    }
    if !(0.01..=10.0).contains(&sigma) {
        let what = "standard deviation of the logarithms";
        return Err(Error::OutsideDomain { what, value: sigma, allowed: "from 0.01 to 10" });
    }
    Ok(())
}
