//! The normal probability plot and how straight it is.

use super::spread_sample;
use crate::Result;
use crate::numeric::sum::{mean_and_squares, sum};
use crate::special::normal;

/// The normal scores against which `n` ordered values are plotted: normal quantiles of Filliben's medians of uniform order statistics.
///
/// `m_1 = 1 - 2^(-1/n)`, `m_n = 2^(-1/n)`, otherwise `m_i = (i - 0.3175) / (n + 0.365)`. Source: Filliben-1975.
pub fn probability_plot_positions(n: usize) -> Result<Vec<f64>> {
    (1..=n).map(|i| normal::quantile(median_of_order(i, n))).collect()
}

fn median_of_order(i: usize, n: usize) -> f64 {
    let size = n as f64;
    let last = 0.5_f64.powf(1.0 / size);
    match i {
        _ if n == 1 => 0.5,
        1 => 1.0 - last,
        _ if i == n => last,
        _ => (i as f64 - 0.3175) / (size + 0.365),
    }
}

/// The correlation of the ordered values with their normal scores: 1 where the probability plot is a straight line.
///
/// For 3 to 1e7 values that are not all equal. Agrees with SciPy's and R's to 1e-11 (table `probability-plot-correlation`). Source:
/// Filliben-1975. Fails with `OutsideDomain`.
pub fn probability_plot_correlation(values: &[f64]) -> Result<f64> {
    let sorted = spread_sample(values, 3, 10_000_000, "from 3 to 1e7")?;
    let scores = probability_plot_positions(sorted.len())?;
    let (value_mean, value_squares) = mean_and_squares(&sorted);
    let (_, score_squares) = mean_and_squares(&scores);
    let joint = sum(sorted.iter().zip(&scores).map(|(v, m)| (v - value_mean) * m));
    Ok((joint / (value_squares * score_squares).sqrt()).clamp(-1.0, 1.0))
}
