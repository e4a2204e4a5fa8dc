//! The share of a population above a bound from how many of a sample lie above it; no distribution is assumed.

use super::check_confidence;
use crate::workers::f_ratio;
use crate::{Error, Result};

/// The one-sided lower limit at `confidence` of the share above, where `above` of `n` values lie above: the lowest share that leaves so
/// many or more believable. Zero where none does.
///
/// `n` is one or more, `above` not more than `n`, `confidence` between 0 and 1; otherwise `OutsideDomain`. Exact: it holds at least
/// as often as `confidence` says.
///
/// Source: Clopper and Pearson, Biometrika 26 (1934) 404-413, by the F distribution.
///
/// ```
/// use fullshift_stats::complete::share_by_count::{lower, upper};
/// // None of 59 above: not more than 5 % are (1 - 0.05^(1/59)). All of 6: at least 0.05^(1/6) are.
/// assert!((upper(0, 59, 0.95)? - 0.049_508).abs() < 1e-6);
/// assert!((lower(6, 6, 0.95)? - 0.606_962).abs() < 1e-6);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn lower(above: usize, n: usize, confidence: f64) -> Result<f64> {
    check(above, n, confidence)?;
    if above == 0 {
        return Ok(0.0);
    }
    let (k, rest) = (above as f64, (n - above + 1) as f64);
    let ratio = f_ratio::quantile(confidence, 2.0 * rest, 2.0 * k)?;
    Ok(k / (k + rest * ratio))
}

/// The one-sided upper limit of the same, which is one less the lower limit of the share not above. One where all values lie above.
pub fn upper(above: usize, n: usize, confidence: f64) -> Result<f64> {
    check(above, n, confidence)?;
    Ok(1.0 - lower(n - above, n, confidence)?)
}

fn check(above: usize, n: usize, confidence: f64) -> Result<()> {
    let outside = |what, value, allowed| Err(Error::OutsideDomain { what, value, allowed });
    match () {
        () if n == 0 => outside("number of values", 0.0, "1 or more"),
        () if above > n => outside("number above", above as f64, "not more than all values"),
        () => check_confidence(confidence),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.15: `beta.ppf(1 - c, k, n - k + 1)` and `beta.ppf(c, k + 1, n - k)`.
    #[test]
    fn the_limits_are_those_of_scipy() {
        for (k, n, c, low, high) in SCIPY {
            let found = [lower(k, n, c).unwrap(), upper(k, n, c).unwrap()];
            assert!(
                (found[0] - low).abs() < 1e-12 && (found[1] - high).abs() < 1e-12,
                "{k} of {n}: {found:?}"
            );
        }
    }

    const SCIPY: [(usize, usize, f64, f64, f64); 5] = [
        (0, 12, 0.95, 0.0, 0.220_922_191_945_556),
        (3, 10, 0.95, 0.087_264_433_914_150_4, 0.606_624_216_105_412),
        (6, 6, 0.95, 0.606_962_231_002_917, 1.0),
        (1, 3, 0.7, 0.112_095_998_257_399, 0.636_742_508_909_432),
        (17, 40, 0.99, 0.246_475_951_412_584, 0.618_832_434_490_079),
    ];

    #[test]
    fn what_is_no_count_is_refused() {
        assert!(lower(1, 0, 0.95).is_err() && lower(3, 2, 0.95).is_err() && upper(1, 2, 1.0).is_err());
    }
}
