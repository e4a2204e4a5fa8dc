//! The one-way analysis of variance.

use super::f_ratio;
use super::repeats::Repeats;
use crate::Result;

/// Sums of squares, mean squares and the test of equal worker means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnalysisOfVariance {
    /// Degrees of freedom between workers, k - 1.
    pub freedom_between: f64,
    /// Degrees of freedom within workers, N - k.
    pub freedom_within: f64,
    /// Sum of squares between workers.
    pub sum_between: f64,
    /// Sum of squares within workers.
    pub sum_within: f64,
    /// Mean square between workers.
    pub mean_square_between: f64,
    /// Mean square within workers: the unbiased estimate of the variance within.
    pub mean_square_within: f64,
    /// Ratio F of the mean squares.
    pub ratio: f64,
    /// Chance of so large a ratio, or a larger one, if all workers had the same mean.
    pub p_value: f64,
    /// Effective number of values per worker, n0.
    pub effective_repeats: f64,
    /// Unbiased estimate of the variance between workers; below 0 where the worker means differ less than their
    /// scatter alone would make them.
    pub between_variance: f64,
}

/// The one-way analysis of variance of repeated values of several workers.
///
/// `SSB = sum n_i (ybar_i - ybar)^2` and `SSW = sum_ij (y_ij - ybar_i)^2`, with `ybar_i` the mean of the `n_i` values of
/// worker i and `ybar` the mean of all N; `MSB = SSB/(k-1)`, `MSW = SSW/(N-k)`, `F = MSB/MSW`,
/// `n0 = (N - sum n_i^2/N)/(k-1)`, and the unbiased variance between workers is `(MSB - MSW)/n0`.
///
/// Accuracy: all certified digits of the lower-difficulty NIST sets (table `nist-strd-anova`); with 7 constant leading
/// digits 9, with 13 constant leading digits 3, which is all that such values keep once they are stored as `f64`.
///
/// Source: H. Scheffe, The Analysis of Variance, 1959, section 7.2.
///
/// ```
/// use fullshift_stats::workers::{Repeats, analysis_of_variance};
/// // Davies and Goldsmith 1972, Table 6.3: between 56,357.5, within 58,830.
/// let batches = [
///     [1545.0, 1440.0, 1440.0, 1520.0, 1580.0], [1540.0, 1555.0, 1490.0, 1560.0, 1495.0],
///     [1595.0, 1550.0, 1605.0, 1510.0, 1560.0], [1445.0, 1440.0, 1595.0, 1465.0, 1545.0],
///     [1595.0, 1630.0, 1515.0, 1635.0, 1625.0], [1520.0, 1455.0, 1450.0, 1480.0, 1445.0],
/// ];
/// let table = analysis_of_variance(&Repeats::of(&batches)?)?;
/// assert!((table.sum_between - 56_357.5).abs() < 1e-7 && (table.sum_within - 58_830.0).abs() < 1e-7);
/// assert!((table.between_variance - 1764.05).abs() < 1e-8);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn analysis_of_variance(repeats: &Repeats) -> Result<AnalysisOfVariance> {
    let (freedom_between, freedom_within) = (repeats.freedom_between(), repeats.freedom_within());
    let sum_between = repeats.weighted(1.0, 0.0).spread;
    let mean_square_between = sum_between / freedom_between;
    let mean_square_within = repeats.within_sum() / freedom_within;
    let ratio = mean_square_between / mean_square_within;
    let effective_repeats = effective_repeats(repeats);
    Ok(AnalysisOfVariance {
        freedom_between,
        freedom_within,
        sum_between,
        sum_within: repeats.within_sum(),
        mean_square_between,
        mean_square_within,
        ratio,
        p_value: f_ratio::upper(ratio, freedom_between, freedom_within)?,
        effective_repeats,
        between_variance: (mean_square_between - mean_square_within) / effective_repeats,
    })
}

fn effective_repeats(repeats: &Repeats) -> f64 {
    let values = repeats.values() as f64;
    (values - repeats.repeats_squared() / values) / repeats.freedom_between()
}
