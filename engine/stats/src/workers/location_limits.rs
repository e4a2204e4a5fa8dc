//! Limits of the group's location.

use super::components::VarianceComponents;
use super::f_ratio;
use super::repeats::Repeats;
use super::within_limits::checked;
use crate::Result;

/// The lower limit of the group's location (the logarithm of its geometric mean).
///
/// `m - t sqrt(sum w_i (ybar_i - m)^2 / ((k-1) sum w_i))`, with the weights `w_i = n_i/(1 + g n_i)` at the fitted ratio g and t the
/// point of Student's distribution of k - 1 degrees of freedom. At the true g this is exact; for balanced data it does not
/// depend on g and is the exact limit from the worker means. `confidence` between 0 and 1, one-sided.
///
/// Source: J. Hartung and G. Knapp, Stat. Med. 20 (2001) 1771-1782.
pub fn location_lower(repeats: &Repeats, fit: &VarianceComponents, confidence: f64) -> Result<f64> {
    Ok(fit.location - reach(repeats, fit, confidence)?)
}

/// The upper limit of the group's location; see [`location_lower`].
pub fn location_upper(repeats: &Repeats, fit: &VarianceComponents, confidence: f64) -> Result<f64> {
    Ok(fit.location + reach(repeats, fit, confidence)?)
}

fn reach(repeats: &Repeats, fit: &VarianceComponents, confidence: f64) -> Result<f64> {
    let sums = repeats.weighted(1.0, fit.between / fit.within);
    let error = (sums.spread / (repeats.freedom_between() * sums.weight)).sqrt();
    Ok(error * student(checked(confidence)?, repeats.freedom_between())?)
}

/// The point of Student's distribution with `below` below it: the root of an F ratio with one degree of freedom above.
fn student(below: f64, freedom: f64) -> Result<f64> {
    if below == 0.5 {
        return Ok(0.0);
    }
    let outside_both = if below > 0.5 { 2.0 * (1.0 - below) } else { 2.0 * below };
    let size = f_ratio::quantile_upper(outside_both, 1.0, freedom)?.sqrt();
    Ok(if below > 0.5 { size } else { -size })
}
