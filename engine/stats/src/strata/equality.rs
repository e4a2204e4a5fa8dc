//! Whether several variances may be one.

use super::stratum::refused;
use crate::Result;
use crate::special::chi_squared;

/// A test of equal variances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EqualityTest {
    /// Bartlett's statistic.
    pub statistic: f64,
    /// Its degrees of freedom: one less than the number of variances.
    pub df: f64,
    /// The probability of a statistic as large where the variances are equal.
    pub p_value: f64,
}

/// Bartlett's test that normal samples have one variance.
///
/// `T = (v ln s^2 - sum v_j ln s_j^2) / C`, `v = sum v_j`, `s^2 = sum v_j s_j^2 / v`, `C = 1 + (sum 1/v_j - 1/v) / (3 (k - 1))`, compared with chi-squared of `k - 1`
/// degrees of freedom. `variances` holds pairs (degrees of freedom above 0, variance above 0), two or more. The approximation is
/// rough where degrees of freedom are 1 or 2. Accuracy: 1e-9 relative against scipy, and the example of the NIST/SEMATECH e-Handbook, section
/// 1.3.5.7, to three decimals (table `bartlett-printed`). Source: Bartlett, Proc. R. Soc. A 160 (1937) 268-282.
/// Fails with `OutsideDomain` on fewer than two variances or on any that is not positive.
///
/// ```
/// // Equal variances: the statistic is zero by its formula.
/// let test = fullshift_stats::strata::equal_variances(&[(4.0, 2.5), (9.0, 2.5)])?;
/// assert!(test.statistic.abs() < 1e-12 && (test.p_value - 1.0).abs() < 1e-6);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn equal_variances(variances: &[(f64, f64)]) -> Result<EqualityTest> {
    if variances.len() < 2 {
        return Err(refused("number of variances", variances.len() as f64, "2 or more"));
    }
    for &(df, variance) in variances {
        if !(df > 0.0 && df <= 1e9) {
            return Err(refused("degrees of freedom", df, "above 0 and at most 1e9"));
        }
        if !(1e-300..=1e300).contains(&variance) {
            return Err(refused("variance", variance, "from 1e-300 to 1e300"));
        }
    }
    let others = variances.len() as f64 - 1.0;
    let v: f64 = variances.iter().map(|(df, _)| df).sum();
    let pooled: f64 = variances.iter().map(|(df, s2)| df / v * s2).sum();
    let spread: f64 = variances.iter().map(|(df, s2)| df * (pooled / s2).ln()).sum();
    let reciprocals: f64 = variances.iter().map(|(df, _)| 1.0 / df).sum();
    let statistic = (spread / (1.0 + (reciprocals - 1.0 / v) / (3.0 * others))).max(0.0);
    Ok(EqualityTest { statistic, df: others, p_value: chi_squared::upper(statistic, others)? })
}
