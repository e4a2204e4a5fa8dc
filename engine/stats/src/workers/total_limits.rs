//! Limits of the total spread, between and within workers together.

use super::repeats::Repeats;
use super::within_limits::checked;
use crate::Result;
use crate::special::chi_squared;

/// The lower limit of the total standard deviation, between and within workers together.
///
/// The total variance is `B + (1 - 1/h) W`, with B the mean square of the workers' plain means, h the harmonic mean of the numbers of
/// values and W the mean square within. Lower limit: `T - sqrt((G1 B)^2 + (G2 (1 - 1/h) W)^2)`, T the estimate and
/// `G = 1 - f/q`, q the point of the chi-squared distribution of f degrees of freedom (k - 1 and N - k) with `confidence` below it. The upper limit
/// adds `sqrt((H1 B)^2 + (H2 (1 - 1/h) W)^2)`, `H = f/q - 1`, q with `confidence` above it. `confidence` between 0 and 1, one-sided.
///
/// Coverage: close to what it says (handbook, *Between and within workers*). Accuracy: 1e-12 relative against 40-digit chi-squared
/// points (table `workers-total`).
///
/// Sources: F. A. Graybill and C. M. Wang, J. Am. Stat. Assoc. 75 (1980) 869-873; unequal numbers: R. K. Burdick and
/// F. A. Graybill, Technometrics 26 (1984) 131-136 (both from memory).
///
/// ```
/// use fullshift_stats::workers::{Repeats, total_sd_lower, total_sd_upper};
/// // Dyestuff yields: mean squares 11,271.5 and 2,451.25; printed chi-squared points 1.145, 11.070 (5 degrees of freedom) and
/// // 13.848, 36.415 (24) give 4215.3 - 1405.3 and 4215.3 + 7723 as variances.
/// let batches = [
///     [1545.0, 1440.0, 1440.0, 1520.0, 1580.0], [1540.0, 1555.0, 1490.0, 1560.0, 1495.0],
///     [1595.0, 1550.0, 1605.0, 1510.0, 1560.0], [1445.0, 1440.0, 1595.0, 1465.0, 1545.0],
///     [1595.0, 1630.0, 1515.0, 1635.0, 1625.0], [1520.0, 1455.0, 1450.0, 1480.0, 1445.0],
/// ];
/// let repeats = Repeats::of(&batches)?;
/// assert!((total_sd_lower(&repeats, 0.95)?.powi(2) - 2810.0).abs() < 1.0);
/// assert!((total_sd_upper(&repeats, 0.95)?.powi(2) - 11_938.0).abs() < 8.0);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn total_sd_lower(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let confidence = checked(confidence)?;
    let factor = |freedom: f64| Ok(1.0 - freedom / chi_squared::quantile(confidence, freedom)?);
    let parts = Parts::of(repeats);
    Ok((parts.sum() - parts.reach(repeats, factor)?).max(0.0).sqrt())
}

/// The upper limit of the total standard deviation; see [`total_sd_lower`].
pub fn total_sd_upper(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let confidence = checked(confidence)?;
    let factor = |freedom: f64| Ok(freedom / chi_squared::quantile_upper(confidence, freedom)? - 1.0);
    let parts = Parts::of(repeats);
    Ok((parts.sum() + parts.reach(repeats, factor)?).max(0.0).sqrt())
}

/// The two parts of the total variance.
struct Parts {
    means: f64,
    within: f64,
}

impl Parts {
    fn of(repeats: &Repeats) -> Parts {
        let mean_square = repeats.within_sum() / repeats.freedom_within();
        Parts {
            means: repeats.spread_of_means() / repeats.freedom_between(),
            within: (1.0 - 1.0 / repeats.harmonic_repeats()) * mean_square,
        }
    }

    fn sum(&self) -> f64 {
        self.means + self.within
    }

    /// Root of the summed squares of the parts, each times its factor; negative where the factors are.
    fn reach(&self, repeats: &Repeats, factor: impl Fn(f64) -> Result<f64>) -> Result<f64> {
        let (means, within) = (factor(repeats.freedom_between())?, factor(repeats.freedom_within())?);
        let (a, b) = (means * self.means, within * self.within);
        let squares = a * a.abs() + b * b.abs();
        Ok(squares.abs().sqrt().copysign(squares))
    }
}
