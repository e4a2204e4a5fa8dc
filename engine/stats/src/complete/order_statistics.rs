//! Limits of a percentile that hold for any continuous distribution: order statistics.

use super::check_confidence;
use crate::{Error, Result};
use statrs::function::beta::checked_beta_reg;

/// An order statistic that serves as a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrderLimit {
    /// Its rank, 1 for the smallest value.
    pub rank: usize,
    /// Its value.
    pub value: f64,
    /// The confidence it attains, at least the one asked for.
    pub confidence: f64,
}

/// The smallest order statistic that lies above the percentile with at least this confidence.
///
/// The `r`-th smallest of `n` values lies above the point with share `p` below it with probability `P(B <= r - 1)`, `B` binomial with `n`
/// trials of probability `p`. `None`: even the largest value does not attain the confidence, for which `smallest_n_upper` values would be
/// needed. `share` in (0, 1); `confidence` from 1e-9 to 1 - 1e-9. Exact to the rounding of the incomplete beta function (1e-12). Source:
/// Hahn-Meeker-1991, section 5.2. Fails with `OutsideDomain` on an empty list or a value that is not finite.
///
/// ```
/// // 59 values are the fewest whose largest lies above the 95th percentile with 95 % confidence (Wilks 1941).
/// use fullshift_stats::complete::order_statistics::percentile_upper;
/// let values: Vec<f64> = (1..=59).map(f64::from).collect();
/// assert_eq!(percentile_upper(&values, 0.95, 0.95)?.map(|limit| limit.rank), Some(59));
/// assert_eq!(percentile_upper(&values[1..], 0.95, 0.95)?, None);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn percentile_upper(values: &[f64], share: f64, confidence: f64) -> Result<Option<OrderLimit>> {
    let sorted = sorted(values)?;
    check(share, confidence)?;
    let n = sorted.len();
    let attained = |rank: usize| confidence_upper(n, rank, share);
    let Some(rank) = first(1, n, |rank| Ok(attained(rank)? >= confidence))? else {
        return Ok(None);
    };
    Ok(Some(OrderLimit { rank, value: sorted[rank - 1], confidence: attained(rank)? }))
}

/// The largest order statistic that lies below the percentile with at least this confidence; see [`percentile_upper`].
pub fn percentile_lower(values: &[f64], share: f64, confidence: f64) -> Result<Option<OrderLimit>> {
    let sorted = sorted(values)?;
    check(share, confidence)?;
    let n = sorted.len();
    // Turned over: the limit from above at the share above.
    let attained = |from_top: usize| confidence_upper(n, from_top, 1.0 - share);
    let Some(from_top) = first(1, n, |rank| Ok(attained(rank)? >= confidence))? else {
        return Ok(None);
    };
    let rank = n + 1 - from_top;
    Ok(Some(OrderLimit { rank, value: sorted[rank - 1], confidence: attained(from_top)? }))
}

/// The confidence with which the `rank`-th smallest of `n` values lies above the point with `share` below it.
pub fn confidence_upper(n: usize, rank: usize, share: f64) -> Result<f64> {
    if rank == 0 || rank > n {
        return Err(Error::OutsideDomain {
            what: "rank",
            value: rank as f64,
            allowed: "from 1 to the number of values",
        });
    }
    check(share, 0.5)?;
    // P(B <= rank - 1) = I_(1-p)(n - rank + 1, rank)
    let (a, b) = ((n - rank + 1) as f64, rank as f64);
    checked_beta_reg(a, b, 1.0 - share).map_err(|_| Error::NoConvergence { what: "binomial probability" })
}

/// The smallest number of values whose `from_top`-th largest lies above the percentile with this confidence.
pub fn smallest_n_upper(from_top: usize, share: f64, confidence: f64) -> Result<usize> {
    check(share, confidence)?;
    if !(1..=1_000_000).contains(&from_top) {
        let value = from_top as f64;
        return Err(Error::OutsideDomain { what: "rank from the top", value, allowed: "from 1 to 1e6" });
    }
    let enough = |n: usize| Ok(confidence_upper(n, n + 1 - from_top, share)? >= confidence);
    let mut most = from_top.max(2);
    while !enough(most)? {
        most *= 2;
        if most > 1_000_000_000 {
            return Err(Error::OutsideDomain {
                what: "share",
                value: share,
                allowed: "one that at most 1e9 values can bound",
            });
        }
    }
    first(from_top, most, enough)?.ok_or(Error::NoConvergence { what: "number of values" })
}

/// The smallest whole number from `low` to `high` that passes, where all above one that passes do too.
fn first(low: usize, high: usize, passes: impl Fn(usize) -> Result<bool>) -> Result<Option<usize>> {
    if !passes(high)? {
        return Ok(None);
    }
    let (mut low, mut high) = (low, high);
    while low < high {
        let middle = low + (high - low) / 2;
        if passes(middle)? { high = middle } else { low = middle + 1 }
    }
    Ok(Some(high))
}

fn sorted(values: &[f64]) -> Result<Vec<f64>> {
    if values.is_empty() {
        return Err(Error::OutsideDomain { what: "number of values", value: 0.0, allowed: "1 or more" });
    }
    if let Some(&value) = values.iter().find(|v| !v.is_finite()) {
        return Err(Error::OutsideDomain { what: "measured value", value, allowed: "finite" });
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    Ok(sorted)
}

fn check(share: f64, confidence: f64) -> Result<()> {
    if !(share > 0.0 && share < 1.0) {
        return Err(Error::OutsideDomain {
            what: "share",
            value: share,
            allowed: "between 0 and 1, both excluded",
        });
    }
    check_confidence(confidence)
}
