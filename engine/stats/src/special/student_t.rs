//! Student's t distribution: both tails and the quantile from either side.
//!
//! The noncentral t at noncentrality zero, whose integral keeps its digits at every number of degrees of freedom.

use super::noncentral_t;
use crate::Result;

/// Probability below `t` with `df` degrees of freedom, from 1 to 1e9, not necessarily whole.
///
/// Relative error below 1e-12 in either tail (table `student-t-tails`).
pub fn lower(t: f64, df: f64) -> Result<f64> {
    noncentral_t::lower(t, df, 0.0)
}

/// Probability above `t`.
pub fn upper(t: f64, df: f64) -> Result<f64> {
    noncentral_t::upper(t, df, 0.0)
}

/// The point with probability `p` below it, `p` in (0, 1).
///
/// ```
/// // Fisher and Yates, table III: 9 degrees of freedom, 0.05 in two tails: 2.262
/// assert!((fullshift_stats::special::student_t::quantile(0.975, 9.0)? - 2.262).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn quantile(p: f64, df: f64) -> Result<f64> {
    noncentral_t::quantile(p, df, 0.0)
}

/// The point with probability `p` above it; keeps its digits for tiny `p`.
pub fn quantile_upper(p: f64, df: f64) -> Result<f64> {
    noncentral_t::quantile_upper(p, df, 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn with_one_degree_of_freedom_it_is_cauchys() {
        for t in [0.0_f64, 0.1, 1.0, 7.0, 1e6] {
            let exact = if t > 0.0 { (1.0 / t).atan() / std::f64::consts::PI } else { 0.5 };
            assert!((upper(t, 1.0).unwrap() / exact - 1.0).abs() < 1e-13, "{t}");
            assert!((lower(-t, 1.0).unwrap() / exact - 1.0).abs() < 1e-13, "{t}");
        }
    }

    #[test]
    fn with_two_degrees_of_freedom_the_quantile_is_algebraic() {
        for p in [0.001_f64, 0.05, 0.3, 0.7, 0.975] {
            let exact = (2.0 * p - 1.0) / (2.0 * p * (1.0 - p)).sqrt();
            assert!((quantile(p, 2.0).unwrap() / exact - 1.0).abs() < 1e-13, "{p}");
            assert!((quantile_upper(p, 2.0).unwrap() / -exact - 1.0).abs() < 1e-13, "{p}");
        }
    }

    /// A power of two and what is left to one are both exact.
    #[test]
    fn a_point_is_the_same_from_either_side() {
        for df in [1.0, 4.5, 40.0] {
            for q in [0.25, 2f64.powi(-10), 2f64.powi(-30), 2f64.powi(-50)] {
                let (from_below, from_above) =
                    (quantile(1.0 - q, df).unwrap(), quantile_upper(q, df).unwrap());
                assert!((from_below / from_above - 1.0).abs() < 1e-12, "{df} {q}: {from_below} {from_above}");
            }
        }
    }

    #[test]
    fn the_middle_is_zero() {
        assert!(quantile(0.5, 7.0).unwrap().abs() < 1e-15);
    }
}
