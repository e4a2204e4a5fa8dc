//! The difference between two means of normal values, unpaired or paired.

use crate::numeric::sum::mean_and_squares;
use crate::special::student_t;
use crate::{Error, Result};

/// A difference with its standard error and degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// The second mean less the first, or the mean of the pairs' differences.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// Degrees of freedom of the standard error, not necessarily whole.
    pub df: f64,
}

impl Difference {
    /// The lower limit at a one-sided confidence: `d - t e`, `t` the quantile of Student's t with `df` degrees of freedom.
    pub fn lower(&self, confidence: f64) -> Result<f64> {
        Ok(self.value - student_t::quantile(confidence, self.df)? * self.error)
    }

    /// The upper limit at a one-sided confidence; see [`Difference::lower`].
    pub fn upper(&self, confidence: f64) -> Result<f64> {
        Ok(self.value + student_t::quantile(confidence, self.df)? * self.error)
    }

    /// The confidence that the true difference lies below zero: the tail of Student's t below `-d / e`. One minus the one-sided p-value of the test
    /// that it does not.
    pub fn confidence_below_zero(&self) -> Result<f64> {
        student_t::lower(-self.value / self.error, self.df)
    }
}

/// The mean of `second` less that of `first`, without the assumption of equal variances.
///
/// `e^2 = s1^2/n1 + s2^2/n2`; degrees of freedom `e^4 / ((s1^2/n1)^2/(n1-1) + (s2^2/n2)^2/(n2-1))`. Two values or more each, finite, not all
/// equal in both lists. Relative error below 1e-12 (table `comparison-r`). Approximate: with few values of very different variances the limits
/// cover a little more or less than they promise. Sources: Welch-1947; Satterthwaite-1946. Fails with `OutsideDomain`.
///
/// ```
/// // Student's sleep data (1908): t = -1.8608, 17.776 degrees of freedom, as printed in the manual of R's t.test.
/// let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
/// let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
/// let found = fullshift_stats::comparison::unpaired(&first, &second)?;
/// assert!((found.value / found.error - 1.8608).abs() < 5e-5 && (found.df - 17.776).abs() < 5e-4);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn unpaired(first: &[f64], second: &[f64]) -> Result<Difference> {
    let ((mean1, part1, df1), (mean2, part2, df2)) = (moments(first)?, moments(second)?);
    let variance = part1 + part2;
    if variance <= 0.0 {
        return Err(Error::OutsideDomain {
            what: "variance of the difference",
            value: variance,
            allowed: "above 0: some values must differ",
        });
    }
    let df = variance * variance / (part1 * part1 / df1 + part2 * part2 / df2);
    Ok(Difference { value: mean2 - mean1, error: variance.sqrt(), df })
}

/// The mean of the differences of pairs: Student's t with one degree of freedom fewer than there are pairs.
///
/// Two pairs or more whose differences are finite and not all equal. Relative error below 1e-12 (table `comparison-r`). Source: Student-1908.
/// Fails with `OutsideDomain`.
///
/// ```
/// // Student's sleep data (1908) as pairs: t = 4.0621, 9 degrees of freedom (manual of R's t.test).
/// let found = fullshift_stats::comparison::paired(&[1.2, 2.4, 1.3, 1.3, 0.0, 1.0, 1.8, 0.8, 4.6, 1.4])?;
/// assert!((found.value / found.error - 4.0621).abs() < 5e-5 && found.df == 9.0);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn paired(differences: &[f64]) -> Result<Difference> {
    let (value, part, df) = moments(differences)?;
    if part <= 0.0 {
        let what = "variance of the differences";
        return Err(Error::OutsideDomain { what, value: part, allowed: "above 0: some must differ" });
    }
    Ok(Difference { value, error: part.sqrt(), df })
}

/// Mean, variance of the mean, degrees of freedom.
fn moments(values: &[f64]) -> Result<(f64, f64, f64)> {
    let n = values.len() as f64;
    if values.len() < 2 {
        return Err(Error::OutsideDomain { what: "number of values", value: n, allowed: "2 or more" });
    }
    if let Some(&value) = values.iter().find(|v| !v.is_finite()) {
        return Err(Error::OutsideDomain { what: "value", value, allowed: "finite" });
    }
    let (mean, squares) = mean_and_squares(values);
    Ok((mean, squares / (n - 1.0) / n, n - 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turning_the_two_round_turns_the_sign() {
        let (a, b) = ([1.0, 2.0, 4.0], [2.0, 2.5]);
        let (there, back) = (unpaired(&a, &b).unwrap(), unpaired(&b, &a).unwrap());
        assert!((there.value + back.value).abs() < 1e-15 && (there.df - back.df).abs() < 1e-12);
        let total = there.confidence_below_zero().unwrap() + back.confidence_below_zero().unwrap();
        assert!((total - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_shows_no_spread_is_refused() {
        assert!(unpaired(&[1.0], &[1.0, 2.0]).is_err());
        assert!(unpaired(&[1.0, 1.0], &[2.0, 2.0]).is_err());
        assert!(unpaired(&[1.0, f64::NAN], &[2.0, 3.0]).is_err());
        assert!(paired(&[1.0]).is_err() && paired(&[1.0, 1.0]).is_err());
    }
}
