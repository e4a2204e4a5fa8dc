//! The test of Shapiro and Wilk.

use super::spread_sample;
use crate::Result;
use crate::numeric::sum::{mean_and_squares, sum};
use crate::special::normal;
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// The statistic and its p-value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShapiroWilk {
    /// Between 0 and 1; 1 is a perfect straight line on the probability plot.
    pub w: f64,
    /// The chance of a `w` this small or smaller were the values normal.
    pub p: f64,
}

const FIRST: [f64; 6] = [0.0, 0.221_157, -0.147_981, -2.071_19, 4.434_685, -2.706_056];
const SECOND: [f64; 6] = [0.0, 0.042_981, -0.293_762, -1.752_461, 5.682_633, -3.582_633];
const SMALL_MEAN: [f64; 4] = [0.544, -0.399_78, 0.025_054, -6.714e-4];
const SMALL_LN_SD: [f64; 4] = [1.3822, -0.778_57, 0.062_767, -0.002_032_2];
const LARGE_MEAN: [f64; 4] = [-1.5861, -0.310_82, -0.083_751, 0.003_891_5];
const LARGE_LN_SD: [f64; 3] = [-0.4803, -0.082_676, 0.003_030_2];
const SMALL_EDGE: [f64; 2] = [-2.273, 0.459];

/// Shapiro and Wilk's `W` of 3 to 5000 values that are not all equal, with its p-value.
///
/// `W = (sum a_i x_(i))^2 / sum (x_i - mean)^2`, with Royston's polynomials for the weights and for the p-value; for three values both
/// are exact. Agrees with R's `shapiro.test` to 2e-9 (table `shapiro-wilk`). Source: Royston-1995 (AS R94). Fails with `OutsideDomain`.
///
/// ```
/// // Shapiro and Wilk 1965: the weights of eleven men, W = 0.79
/// let men = [148.0, 154.0, 158.0, 160.0, 161.0, 162.0, 166.0, 170.0, 182.0, 195.0, 236.0];
/// assert!((fullshift_stats::fit::shapiro_wilk(&men)?.w - 0.79).abs() < 0.005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn shapiro_wilk(values: &[f64]) -> Result<ShapiroWilk> {
    let sorted = spread_sample(values, 3, 5000, "from 3 to 5000")?;
    let weights = weights(sorted.len())?;
    let (mean, squares) = mean_and_squares(&sorted);
    let n = sorted.len();
    let line = sum((0..n / 2).map(|i| weights[i] * ((sorted[n - 1 - i] - mean) - (sorted[i] - mean))));
    let length = 2.0 * sum(weights.iter().map(|a| a * a));
    // 1 - W by the product of sum and difference, which keeps its digits near 1.
    let whole = (length * squares).sqrt();
    let short = ((whole - line) * (whole + line) / (length * squares)).max(0.0);
    Ok(ShapiroWilk { w: 1.0 - short, p: p_value(n, short) })
}

/// The weights of the largest, second largest, ... value; those of the smallest are their negatives.
fn weights(n: usize) -> Result<Vec<f64>> {
    if n == 3 {
        return Ok(vec![FRAC_1_SQRT_2]);
    }
    let size = n as f64;
    let scores: Vec<f64> =
        (0..n / 2).map(|i| normal::quantile((i as f64 + 0.625) / (size + 0.25))).collect::<Result<_>>()?;
    let square = 2.0 * sum(scores.iter().map(|m| m * m));
    let small = 1.0 / size.sqrt();
    let first = polynomial(&FIRST, small) - scores[0] / square.sqrt();
    let mut corrected = vec![first];
    if n > 5 {
        corrected.push(polynomial(&SECOND, small) - scores[1] / square.sqrt());
    }
    let taken = 2.0 * sum(scores.iter().take(corrected.len()).map(|m| m * m));
    let given = 2.0 * sum(corrected.iter().map(|a| a * a));
    let factor = ((square - taken) / (1.0 - given)).sqrt();
    corrected.extend(scores.iter().skip(corrected.len()).map(|m| -m / factor));
    Ok(corrected)
}

/// The p-value, from `1 - W`.
fn p_value(n: usize, short: f64) -> f64 {
    let size = n as f64;
    if n == 3 {
        let w = (1.0 - short).clamp(0.75, 1.0);
        return (6.0 / PI * (w.sqrt().asin() - 0.75_f64.sqrt().asin())).clamp(0.0, 1.0);
    }
    let ln_short = short.max(f64::MIN_POSITIVE).ln();
    let (score, mean, ln_sd) = if n <= 11 {
        let edge = polynomial(&SMALL_EDGE, size);
        if ln_short >= edge {
            return 0.0;
        }
        (-(edge - ln_short).ln(), polynomial(&SMALL_MEAN, size), polynomial(&SMALL_LN_SD, size))
    } else {
        (ln_short, polynomial(&LARGE_MEAN, size.ln()), polynomial(&LARGE_LN_SD, size.ln()))
    };
    normal::upper((score - mean) / ln_sd.exp())
}

/// The polynomial with these coefficients, lowest power first.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |value, c| value * x + c)
}
