//! The chance that the exact limits of a lognormal percentile will lie on one side of a point.

use super::checked_distance;
use crate::Result;
use crate::complete::percentile::{tolerance_factor_lower, tolerance_factor_upper};
use crate::special::noncentral_t;

/// The chance that the upper limit of a percentile, from a sample yet to be drawn, will lie below a point.
///
/// The limit is `exp(ybar + k s)`, and it lies below the point `P` exactly when `sqrt(n) (ln P - ybar) / s` exceeds `k sqrt(n)`; that ratio has
/// the noncentral t distribution with `n - 1` degrees of freedom and noncentrality `d sqrt(n)`, `d` being `distance = (ln P - mu) / sigma`
/// of the true distribution. So the chance is the tail above `k sqrt(n)`.
///
/// `n` from 2 to 1e6; `distance` any number; `share` of the percentile and one-sided `confidence` of the limit in (0, 1). Relative error below
/// 1e-10 (table `power-percentile`). Source: Hahn-Meeker-1991, section 4.4; Owen-1968. Fails with `OutsideDomain`.
///
/// ```
/// use fullshift_stats::power::percentile::below;
/// // At the limit itself, where the point is the 95th percentile, a limit of 70 % confidence lies below it 30 times in 100.
/// let z = fullshift_stats::special::normal::quantile(0.95)?;
/// assert!((below(6, z, 0.95, 0.7)? - 0.3).abs() < 1e-10);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn below(n: usize, distance: f64, share: f64, confidence: f64) -> Result<f64> {
    let (factor, root) = (tolerance_factor_upper(n, share, confidence)?, (n as f64).sqrt());
    noncentral_t::upper(factor * root, n as f64 - 1.0, checked_distance(distance)? * root)
}

/// The chance that the lower limit of a percentile, from a sample yet to be drawn, will lie above a point: as [`below`], the tail below the
/// lower limit's `k sqrt(n)`.
pub fn above(n: usize, distance: f64, share: f64, confidence: f64) -> Result<f64> {
    let (factor, root) = (tolerance_factor_lower(n, share, confidence)?, (n as f64).sqrt());
    noncentral_t::lower(factor * root, n as f64 - 1.0, checked_distance(distance)? * root)
}
