//! The chance that a sample not yet drawn will settle a question: how often the limits of `n` values lie on one side of a point when
//! the distribution is known.
//!
//! The distribution is told by two numbers: how far the point lies above the mean of the logarithms, and their standard deviation.
//! [`percentile`] and [`by_rank`] are exact, [`mean`] is a quadrature. [`fewest`] turns a chance into a number of values.

pub mod by_rank;
pub mod mean;
pub mod percentile;

use crate::{Error, Result};

/// The smallest number of values from `low` to `high` whose chance reaches `wanted`, for a chance that does not fall with the number;
/// `None` where even `high` values do not reach it.
///
/// Strides double from `low` until the chance is reached, then the last stride is halved. Fails with `OutsideDomain` where `wanted` is no
/// chance or `low` lies above `high`, and as `chance` fails.
///
/// ```
/// // 59 values are the fewest whose largest lies above the 95th percentile with 95 % chance (Wilks 1941).
/// let chance = |n: usize| Ok(1.0 - 0.95f64.powi(n as i32));
/// assert_eq!(fullshift_stats::power::fewest(1, 1000, 0.95, chance)?, Some(59));
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn fewest(
    low: usize,
    high: usize,
    wanted: f64,
    chance: impl Fn(usize) -> Result<f64>,
) -> Result<Option<usize>> {
    if !(wanted > 0.0 && wanted < 1.0) {
        return Err(Error::OutsideDomain {
            what: "chance wanted",
            value: wanted,
            allowed: "between 0 and 1",
        });
    }
    if low > high {
        let value = low as f64;
        return Err(Error::OutsideDomain {
            what: "fewest values",
            value,
            allowed: "not above the most values",
        });
    }
    let (mut below, mut at, mut stride) = (None, low, 1);
    while chance(at)? < wanted {
        if at == high {
            return Ok(None);
        }
        below = Some(at);
        at = (at + stride).min(high);
        stride *= 2;
    }
    let Some(mut below) = below else { return Ok(Some(at)) };
    while at - below > 1 {
        let middle = below + (at - below) / 2;
        if chance(middle)? < wanted { below = middle } else { at = middle }
    }
    Ok(Some(at))
}

/// A point this many standard deviations off decides to the last digit of a double.
const FAR: f64 = 500.0;

/// Refuses what is no distance; one beyond doubt is drawn in.
fn checked_distance(distance: f64) -> Result<f64> {
    if distance.is_nan() {
        return Err(Error::OutsideDomain {
            what: "distance to the point",
            value: distance,
            allowed: "a number",
        });
    }
    Ok(distance.clamp(-FAR, FAR))
}
