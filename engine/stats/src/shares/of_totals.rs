//! The share of a part in the total of units drawn alike: a ratio of two means.

use crate::complete::check_confidence;
use crate::numeric::sum::sum;
use crate::special::student_t;
use crate::{Error, Result};

/// The share of a part in totals, with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OfTotals {
    share: f64,
    standard_error: f64,
    df: f64,
}

impl OfTotals {
    /// The share `p = sum d_i / sum D_i` of the parts `d_i` in the totals `D_i`.
    ///
    /// `s.e.(p)^2 = n/(n-1) sum (d_i - p D_i)^2 / (sum D_i)^2`, linearised. Two units or more; every part from 0 to its total, the
    /// totals not all zero. Accuracy: 1e-12 of `fixtures/published/share-of-totals.json` (R, package survey). Source: Cochran-1977,
    /// sections 2.11 and 6.4 (recalled). Fails with `OutsideDomain`.
    ///
    /// ```
    /// use fullshift_stats::shares::OfTotals;
    /// // 36 of 66: share 6/11, standard error 0.0515840 by R's survey::svyratio.
    /// let found = OfTotals::new(&[10.0, 4.0, 7.0, 12.0, 3.0], &[20.0, 9.0, 11.0, 18.0, 8.0])?;
    /// assert!((found.share() - 6.0 / 11.0).abs() < 1e-15);
    /// assert!((found.standard_error() - 0.0515840).abs() < 5e-8);
    /// # Ok::<(), fullshift_stats::Error>(())
    /// ```
    pub fn new(parts: &[f64], totals: &[f64]) -> Result<OfTotals> {
        let n = parts.len();
        if n < 2 || n != totals.len() {
            return Err(refused("number of parts with a total", n as f64, "2 or more, as many as totals"));
        }
        for (&part, &total) in parts.iter().zip(totals) {
            if !(0.0..=1e150).contains(&total) {
                return Err(refused("total", total, "from 0 to 1e150"));
            }
            if !(0.0..=total * (1.0 + 1e-12)).contains(&part) {
                return Err(refused("part", part, "from 0 to its total"));
            }
        }
        let whole = sum(totals.iter().copied());
        if whole <= 0.0 {
            return Err(refused("sum of the totals", whole, "above 0"));
        }
        let share = (sum(parts.iter().copied()) / whole).min(1.0);
        // As shares of the whole, so that no square overflows.
        let squares = sum(parts.iter().zip(totals).map(|(d, t)| (d / whole - share * (t / whole)).powi(2)));
        let df = n as f64 - 1.0;
        Ok(OfTotals { share, standard_error: (n as f64 / df * squares).sqrt(), df })
    }

    /// The share, 0 to 1.
    pub fn share(&self) -> f64 {
        self.share
    }

    /// Its standard error.
    pub fn standard_error(&self) -> f64 {
        self.standard_error
    }

    /// The one-sided lower limit: the share lies above it with this confidence.
    pub fn lower(&self, confidence: f64) -> Result<f64> {
        self.limit(confidence, -1.0)
    }

    /// The one-sided upper limit: the share lies below it with this confidence.
    pub fn upper(&self, confidence: f64) -> Result<f64> {
        self.limit(confidence, 1.0)
    }

    /// `logit p -+ t s.e. / (p (1 - p))`, so that the limit is a share. A share of 0 or 1 has none.
    fn limit(&self, confidence: f64, side: f64) -> Result<f64> {
        check_confidence(confidence)?;
        let room = self.share * (1.0 - self.share);
        if room <= 0.0 {
            return Err(refused("share with limits", self.share, "between 0 and 1"));
        }
        let away = side * student_t::quantile(confidence, self.df)? * self.standard_error / room;
        let odds = (self.share / (1.0 - self.share)).ln() + away;
        Ok(1.0 / (1.0 + (-odds).exp()))
    }
}

fn refused(what: &'static str, value: f64, allowed: &'static str) -> Error {
    Error::OutsideDomain { what, value, allowed }
}
