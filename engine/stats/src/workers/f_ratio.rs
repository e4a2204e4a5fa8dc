//! The F distribution, of the ratio of two independent mean squares.

use super::repeats::outside;
use crate::numeric::root;
use crate::{Error, Result};
use statrs::function::beta::checked_beta_reg;

/// Probability below `ratio`, with `above` degrees of freedom in the numerator and `below` in the denominator.
///
/// The regularised incomplete beta function `I_x(above/2, below/2)` at `x = above ratio / (below + above ratio)`. Domain:
/// `ratio` 0 or more; degrees of freedom above 0. Relative error below 1e-12 (table `workers-f-ratio`).
pub fn lower(ratio: f64, above: f64, below: f64) -> Result<f64> {
    allowed(ratio)?;
    tail(above * ratio, below, above, below)
}

/// Probability above `ratio`; keeps its digits where it is tiny.
///
/// ```
/// // Abramowitz and Stegun, table 26.9: F(5, 24) is 3.90 with 0.01 above, rounded.
/// use fullshift_stats::workers::f_ratio;
/// assert!(f_ratio::upper(3.895, 5.0, 24.0)? > 0.01 && f_ratio::upper(3.905, 5.0, 24.0)? < 0.01);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn upper(ratio: f64, above: f64, below: f64) -> Result<f64> {
    allowed(ratio)?;
    tail(below, above * ratio, below, above)
}

/// The ratio with probability `probability` below it.
pub fn quantile(probability: f64, above: f64, below: f64) -> Result<f64> {
    invert(probability, above, below, probability > 0.5)
}

/// The ratio with probability `probability` above it.
pub fn quantile_upper(probability: f64, above: f64, below: f64) -> Result<f64> {
    if probability < 0.5 {
        return invert_tail(probability, |ratio| upper(ratio, above, below));
    }
    quantile(1.0 - probability, above, below)
}

fn allowed(ratio: f64) -> Result<()> {
    if ratio >= 0.0 { Ok(()) } else { Err(outside("ratio of mean squares", ratio, "0 or more")) }
}

/// `I_x(half of a, half of b)` at `x = part / (part + rest)`.
fn tail(part: f64, rest: f64, a: f64, b: f64) -> Result<f64> {
    if !(a > 0.0 && b > 0.0 && a.is_finite() && b.is_finite()) {
        return Err(outside("degrees of freedom", a.min(b), "above 0 and finite"));
    }
    let share = if part.is_infinite() { 1.0 } else { part / (part + rest) };
    match checked_beta_reg(0.5 * a, 0.5 * b, share) {
        Ok(found) if !found.is_nan() => Ok(found.clamp(0.0, 1.0)),
        _ => Err(Error::NoConvergence { what: "incomplete beta function" }),
    }
}

fn invert(probability: f64, above: f64, below: f64, from_above: bool) -> Result<f64> {
    if from_above {
        return invert_tail(1.0 - probability, |ratio| upper(ratio, above, below));
    }
    invert_tail(probability, |ratio| lower(ratio, above, below))
}

/// The ratio at which a tail has the wanted probability, sought in logarithms of both.
fn invert_tail(wanted: f64, tail: impl Fn(f64) -> Result<f64>) -> Result<f64> {
    const WHAT: &str = "quantile of the ratio of mean squares";
    if !(wanted > 0.0 && wanted < 1.0) {
        return Err(outside("probability", wanted, "between 0 and 1, both excluded"));
    }
    tail(1.0)?;
    let gap = |ln_ratio: f64| {
        tail(ln_ratio.exp()).map_or(f64::NAN, |found| (found.max(f64::MIN_POSITIVE) / wanted).ln())
    };
    let (low, high) = root::bracket(WHAT, 0.0, 1.0, (-600.0, 600.0), gap)?;
    Ok(root::brent(WHAT, 1e-15, low, high, gap)?.exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_chance_lies_beyond_one() {
        let freedoms = [5e-324, 1e-300, 1e-8, 0.3, 1.0, 7.0, 250.0, 1e6, 1e300];
        for (above, below) in freedoms.iter().flat_map(|a| freedoms.map(|b| (*a, b))) {
            for ratio in [0.0, 1e-300, 1e-3, 1.0, 40.0, 1e12, f64::INFINITY] {
                for chance in [lower(ratio, above, below), upper(ratio, above, below)].into_iter().flatten() {
                    assert!((0.0..=1.0).contains(&chance), "{ratio} {above} {below}: {chance}");
                }
            }
        }
    }
}
