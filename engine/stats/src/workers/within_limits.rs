//! Exact limits: spread within workers, and the ratio and share of the variances.

use super::f_ratio;
use super::repeats::{Repeats, outside};
use crate::Result;
use crate::numeric::root;
use crate::special::chi_squared;

/// Refuses a confidence that is not a probability.
pub(crate) fn checked(confidence: f64) -> Result<f64> {
    if confidence > 0.0 && confidence < 1.0 {
        return Ok(confidence);
    }
    Err(outside("confidence", confidence, "between 0 and 1, both excluded"))
}

/// The lower limit of the standard deviation within workers, exact for any numbers of values.
///
/// `sqrt(SSW / q)`, with q the point of the chi-squared distribution of N - k degrees of freedom that has `confidence`
/// below it. `confidence` between 0 and 1, one-sided. Source: any text; S. R. Searle and others, Variance Components, 1992,
/// section 3.6.
///
/// ```
/// use fullshift_stats::workers::{Repeats, within_sd_lower, within_sd_upper};
/// // Four looms, four values each (D. C. Montgomery, Design and Analysis of Experiments): the mean square within is 1.896.
/// let looms = [[98.0, 97.0, 99.0, 96.0], [91.0, 90.0, 93.0, 92.0], [96.0, 95.0, 97.0, 95.0], [95.0, 96.0, 99.0, 98.0]];
/// let repeats = Repeats::of(&looms)?;
/// let (low, high) = (within_sd_lower(&repeats, 0.975)?.powi(2), within_sd_upper(&repeats, 0.975)?.powi(2));
/// // 22.75 / 23.337 and 22.75 / 4.404, with the printed chi-squared points of 12 degrees of freedom
/// assert!((low - 22.75 / 23.337).abs() < 3e-5 && (high - 22.75 / 4.404).abs() < 7e-4);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn within_sd_lower(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let point = chi_squared::quantile(checked(confidence)?, repeats.freedom_within())?;
    Ok((repeats.within_sum() / point).sqrt())
}

/// The upper limit of the standard deviation within workers; see [`within_sd_lower`].
pub fn within_sd_upper(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let point = chi_squared::quantile_upper(checked(confidence)?, repeats.freedom_within())?;
    Ok((repeats.within_sum() / point).sqrt())
}

/// The lower limit of the share of the variance that lies between workers, exact for any numbers of values.
///
/// `g/(1+g)`, with g the ratio of the variances at which `H(g) = [sum w_i (ybar_i - m)^2/(k-1)] / MSW`, `w_i = n_i/(1+g n_i)`,
/// equals the point of the F distribution that has `confidence` below it; 0 where H(0) is not above that point. At the true
/// g, H has exactly the F distribution, and it falls in g. Source: A. Wald, Ann. Math. Statist. 11 (1940) 96-100.
///
/// Accuracy: 1e-11 against 40-digit roots (table `workers-share-between`).
///
/// ```
/// use fullshift_stats::workers::{Repeats, share_between_lower, share_between_upper};
/// // Four looms (D. C. Montgomery, Design and Analysis of Experiments): 0.385 to 0.982 at 95 %, two-sided.
/// let looms = [[98.0, 97.0, 99.0, 96.0], [91.0, 90.0, 93.0, 92.0], [96.0, 95.0, 97.0, 95.0], [95.0, 96.0, 99.0, 98.0]];
/// let repeats = Repeats::of(&looms)?;
/// assert!((share_between_lower(&repeats, 0.975)? - 0.385).abs() < 0.0005);
/// assert!((share_between_upper(&repeats, 0.975)? - 0.982).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn share_between_lower(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let (above, below) = (repeats.freedom_between(), repeats.freedom_within());
    share_at(repeats, f_ratio::quantile(checked(confidence)?, above, below)?)
}

/// The upper limit of the share of the variance that lies between workers; see [`share_between_lower`].
pub fn share_between_upper(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let (above, below) = (repeats.freedom_between(), repeats.freedom_within());
    share_at(repeats, f_ratio::quantile_upper(checked(confidence)?, above, below)?)
}

/// The share at which the weighted F ratio of the worker means takes a value.
fn share_at(repeats: &Repeats, wanted: f64) -> Result<f64> {
    let ratio = ratio_at(repeats, wanted)?;
    Ok(ratio / (1.0 + ratio))
}

fn ratio_at(repeats: &Repeats, wanted: f64) -> Result<f64> {
    const WHAT: &str = "limit of the ratio of the variances";
    let spread = wanted * repeats.freedom_between() * repeats.within_sum() / repeats.freedom_within();
    let gap = |ratio: f64| spread - repeats.weighted(1.0, ratio).spread;
    if gap(0.0) >= 0.0 {
        return Ok(0.0);
    }
    // Every weight is below 1/ratio, so the spread is below that of the plain means over the ratio.
    let (fewest, _) = repeats.extreme_repeats();
    let enough = 2.0 * repeats.weighted(1.0, 0.0).spread / fewest / spread;
    root::brent(WHAT, 0.0, 0.0, enough, gap)
}
