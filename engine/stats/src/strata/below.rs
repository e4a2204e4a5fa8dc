//! How high the mean of a stratum may be of which every reading lay below the first mark.

use crate::complete::check_confidence;
use crate::special::normal;
use crate::{Error, Result};

/// The one-sided upper limit at `confidence` of the mean of a lognormal distribution with the standard deviation `sd_ln` of the
/// logarithms, of which `n` values all lay below `mark`: `mark exp(sd_ln^2/2 - sd_ln z)` with `z` the normal quantile of
/// `(1 - confidence)^(1/n)`, which is the lowest chance of a value below the mark that so many values leave believable. It is exact
/// where the spread is known; a spread borrowed from elsewhere is an assumption.
///
/// `mark` is above zero, `n` is one or more, `sd_ln` zero or above, `confidence` between 0 and 1; otherwise `OutsideDomain`. In
/// the unit of `mark`; no smaller than zero, and below `mark` where many values lay below it.
///
/// Source: the lower limit of a share by its binomial distribution with all of `n` (Clopper and Pearson, Biometrika 26 (1934)
/// 404-413), carried through the distribution.
///
/// ```
/// // One tube below 5, geometric standard deviation 2.5: scipy gives 34.34294.
/// let upper = fullshift_stats::strata::mean_of_all_below(5.0, 1, 2.5_f64.ln(), 0.95)?;
/// assert!((upper - 34.342_937_682_2).abs() < 1e-9);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn mean_of_all_below(mark: f64, n: usize, sd_ln: f64, confidence: f64) -> Result<f64> {
    let outside = |what, value, allowed| Err(Error::OutsideDomain { what, value, allowed });
    match () {
        () if !(mark > 0.0 && mark.is_finite()) => outside("first mark", mark, "above 0, finite"),
        () if n == 0 => outside("number of values", 0.0, "1 or more"),
        () if !(sd_ln >= 0.0 && sd_ln.is_finite()) => {
            outside("standard deviation", sd_ln, "0 or above, finite")
        }
        () => {
            check_confidence(confidence)?;
            let z = normal::quantile((1.0 - confidence).powf(1.0 / n as f64))?;
            Ok(mark * (0.5 * sd_ln * sd_ln - sd_ln * z).exp())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.15: `L*exp(s*s/2 - s*norm.ppf(0.05**(1/n)))`.
    #[test]
    fn the_more_values_lay_below_the_mark_the_lower_the_limit() {
        for (mark, n, gsd, expected) in [
            (5.0, 1, 2.5, 34.342_937_682_2),
            (5.0, 3, 2.5, 10.352_048_331_0),
            (1.0, 10, 3.0, 0.898_382_495_7),
        ] {
            let found = mean_of_all_below(mark, n, f64::ln(gsd), 0.95).unwrap();
            assert!((found / expected - 1.0).abs() < 1e-10, "{found} {expected}");
        }
        assert_eq!(mean_of_all_below(5.0, 2, 0.0, 0.95).unwrap(), 5.0);
    }

    #[test]
    fn what_is_no_question_is_refused() {
        for (mark, n, sd_ln, confidence) in [
            (0.0, 1, 1.0, 0.95),
            (5.0, 0, 1.0, 0.95),
            (5.0, 1, -1.0, 0.95),
            (5.0, 1, 1.0, 1.0),
            (5.0, 1, f64::NAN, 0.9),
        ] {
            assert!(mean_of_all_below(mark, n, sd_ln, confidence).is_err());
        }
    }
}
