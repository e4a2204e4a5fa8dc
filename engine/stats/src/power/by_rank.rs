//! The chance that the limit of a percentile by rank will lie below a point.

use crate::complete::order_statistics::confidence_upper;
use crate::{Error, Result};
use statrs::function::beta::checked_beta_reg;

/// The chance that the upper limit of a percentile by rank, from `n` values yet to be drawn, will lie below a point.
///
/// The limit is the smallest ranked value that lies above the percentile with `confidence`, say the `r`-th from below; it lies below the point
/// when at most `n - r` values do not, whose number is binomial with `n` trials of probability `share_above`. Nil where no rank serves.
///
/// `n` from 1 to 1e6; `share_above` the point, in \[0, 1\]; `share` of the percentile and one-sided `confidence` in (0, 1). Absolute error below
/// 1e-12 (table `power-by-rank`). Source: Hahn-Meeker-1991, section 5.2. Fails with `OutsideDomain`.
///
/// ```
/// // 59 values, of which the largest must lie below: 0.99^59 = 0.5527 (exact).
/// let chance = fullshift_stats::power::by_rank::below(59, 0.01, 0.95, 0.95)?;
/// assert!((chance - 0.99f64.powi(59)).abs() < 1e-12);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn below(n: usize, share_above: f64, share: f64, confidence: f64) -> Result<f64> {
    if !(0.0..=1.0).contains(&share_above) {
        return Err(Error::OutsideDomain { what: "share above", value: share_above, allowed: "from 0 to 1" });
    }
    let Some(allowed) = most_above(n, share, confidence)? else { return Ok(0.0) };
    let (a, b) = ((n - allowed) as f64, allowed as f64 + 1.0);
    checked_beta_reg(a, b, 1.0 - share_above)
        .map_err(|_| Error::NoConvergence { what: "binomial probability" })
}

/// How many of `n` values may lie at or above the point for the limit by rank to lie below it; `None` where no rank serves.
pub fn most_above(n: usize, share: f64, confidence: f64) -> Result<Option<usize>> {
    if !(1..=1_000_000).contains(&n) {
        let value = n as f64;
        return Err(Error::OutsideDomain { what: "number of values", value, allowed: "from 1 to 1e6" });
    }
    let serves = |above: usize| Ok::<bool, Error>(confidence_upper(n, n - above, share)? >= confidence);
    if !serves(0)? {
        return Ok(None);
    }
    let (mut low, mut high) = (0, n);
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if serves(middle)? { low = middle } else { high = middle }
    }
    Ok(Some(low))
}
