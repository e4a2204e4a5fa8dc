//! Limits of the group's location.

use super::components::VarianceComponents;
use super::repeats::Repeats;
use super::within_limits::checked;
use crate::Result;
use crate::special::student_t;

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
    Ok(error * student_t::quantile(checked(confidence)?, repeats.freedom_between())?)
}
