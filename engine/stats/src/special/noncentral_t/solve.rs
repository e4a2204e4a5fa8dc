//! Quantiles of the noncentral t and the noncentrality for a given tail.
//!
//! Newton's method on the normal score of the tail, which is nearly a straight line in the noncentrality and in the inverse
//! hyperbolic sine of the scaled point.

use super::integral::{self, Accuracy, Tail};
use super::{check, check_df, check_point};
use crate::special::normal;
use crate::{Error, Result};

const STEPS: usize = 200;
/// From a score this close Halley's step reaches the last digit.
const CLOSE: f64 = 1e-5;
/// From a score this close it comes closer than that.
const NEAR: f64 = 1e-2;

/// A probability given by its smaller side, and the normal score with that probability below it.
#[derive(Debug, Clone, Copy)]
struct Target {
    is_upper: bool,
    score: f64,
}

impl Target {
    fn below(p: f64) -> Result<Target> {
        Ok(Target { is_upper: p > 0.5, score: normal::quantile(p)? })
    }

    fn above(p: f64) -> Result<Target> {
        Ok(Target { is_upper: p <= 0.5, score: normal::quantile_upper(p)? })
    }
}

/// The point with probability `p` below it.
///
/// The root in `t` of `P(T <= t) = p`. Domain: `p` in (0, 1), `df` from 1 to 1e9, |`noncentrality`| at most 1e5. Relative error
/// below 1e-12 wherever the point itself is well conditioned (table `noncentral-t-quantile`). Fails with `OutsideDomain`, or
/// `NoConvergence` where the point would lie beyond 1e300.
///
/// ```
/// // Tolerance factor for 5 values, 95 % confidence and 95th percentile: 4.203 in print (Hahn-Meeker-1991).
/// let t = fullshift_stats::special::noncentral_t::quantile(0.95, 4.0, 1.6448536269514722 * 5f64.sqrt())?;
/// assert!((t / 5f64.sqrt() - 4.203).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn quantile(p: f64, df: f64, noncentrality: f64) -> Result<f64> {
    check(df, noncentrality)?;
    point(Target::below(p)?, df, noncentrality)
}

/// The point with probability `p` above it; keeps its digits for tiny `p`.
pub fn quantile_upper(p: f64, df: f64, noncentrality: f64) -> Result<f64> {
    check(df, noncentrality)?;
    point(Target::above(p)?, df, noncentrality)
}

/// The noncentrality for which probability `p` lies below `t`.
///
/// The root in `delta` of `P(T <= t) = p`, which falls as `delta` grows. Domain: `p` in (0, 1), `df` from 1 to 1e9, |`t`| at most
/// 1e12. Relative error below 1e-12 or absolute error below 1e-13, whichever is larger (table `noncentrality`).
pub fn noncentrality(t: f64, df: f64, p: f64) -> Result<f64> {
    check_df(df)?;
    check_point(t)?;
    centre(t, df, Target::below(p)?)
}

/// The noncentrality for which probability `p` lies above `t`; keeps its digits for tiny `p`.
pub fn noncentrality_upper(t: f64, df: f64, p: f64) -> Result<f64> {
    check_df(df)?;
    check_point(t)?;
    centre(t, df, Target::above(p)?)
}

/// How close a score must be for the last step at this accuracy.
fn within(accuracy: Accuracy) -> f64 {
    match accuracy {
        Accuracy::Rough => NEAR,
        Accuracy::Full => CLOSE,
    }
}

/// The normal score of a tail: the normal point with the same probability below it.
fn score(tail: &Tail) -> Result<f64> {
    let lower_score = normal::quantile_of_log(tail.ln_probability())?;
    Ok(if tail.is_upper { -lower_score } else { lower_score })
}

/// The logarithm of (rate of the tail) over (normal density at its score), so that nothing underflows.
fn rate_of_score(rate: f64, tail: &Tail, score: f64) -> f64 {
    (rate.ln() + tail.ln_scale - normal::log_density(score)).exp()
}

/// Mean of the standard deviation's share, to a digit or two: a start needs no more.
fn mean_share(df: f64) -> f64 {
    1.0 - 0.25 / df
}

fn point(target: Target, df: f64, noncentrality: f64) -> Result<f64> {
    const WHAT: Error = Error::NoConvergence { what: "noncentral t quantile" };
    let scale = (df + noncentrality * noncentrality).sqrt();
    let mut y = (start(target.score, df, noncentrality) / scale).asinh();
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut accuracy = Accuracy::Rough;
    for _ in 0..STEPS {
        let t = scale * y.sinh();
        let tail = integral::tail(t, df, noncentrality, target.is_upper, accuracy)?;
        let reached = score(&tail)?;
        let off = reached - target.score;
        if off > 0.0 {
            high = high.min(y)
        } else {
            low = low.max(y)
        }
        let slope = rate_of_score(tail.per_t, &tail, reached);
        // Close by, the step is taken in t itself, where the last digits are.
        if off.abs() <= within(accuracy) * (1.0 + target.score.abs()) {
            let moved = t + halley(off, slope, tail.density_slope / tail.per_t, reached);
            if accuracy == Accuracy::Full {
                return if moved.is_finite() { Ok(moved) } else { Err(WHAT) };
            }
            accuracy = Accuracy::Full;
            y = (moved / scale).asinh();
            (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
            continue;
        }
        if y.abs() > 690.0 {
            break;
        }
        y = guarded(y, -off / (slope * scale * y.cosh()), 2.0, low, high);
    }
    Err(WHAT)
}

/// Halley's step to the root of `score - target`, from the slope of the score and the logarithmic slope of the density behind it.
///
/// With `w` the score and `p` the density, `w' = p / phi(w)` and `w'' / w' = p'/p + w w'`.
fn halley(off: f64, slope: f64, log_slope: f64, score: f64) -> f64 {
    let newton = -off / slope;
    newton / (1.0 + 0.5 * newton * (log_slope + score * slope))
}

/// A Newton step, no longer than `longest`, that stays inside the bracket; else its middle.
fn guarded(at: f64, step: f64, longest: f64, low: f64, high: f64) -> f64 {
    let step = if step.is_nan() { 0.0 } else { step.clamp(-longest, longest) };
    let next = at + step;
    if next > low && next < high {
        return next;
    }
    match (low.is_finite(), high.is_finite()) {
        (true, true) => 0.5 * (low + high),
        (true, false) => at + longest,
        _ => at - longest,
    }
}

/// A start for the quantile: the limits of numerator and denominator combined by squares.
fn start(score: f64, df: f64, noncentrality: f64) -> f64 {
    if noncentrality < 0.0 {
        return -start(-score, df, -noncentrality);
    }
    let ratio = 1.0 / share_quantile(-score, df);
    if score < 0.0 {
        return noncentrality - score.hypot(noncentrality * (1.0 - ratio));
    }
    noncentrality + student_point(score, df).hypot(noncentrality * (ratio - 1.0))
}

/// Wallace's approximation to the point of Student's t with this normal score.
fn student_point(score: f64, df: f64) -> f64 {
    let stretched = score * (8.0 * df + 3.0) / (8.0 * df + 1.0);
    (df * (stretched * stretched / df).min(600.0).exp_m1()).sqrt()
}

/// Wilson and Hilferty's approximation to the point of the share with this normal score; the leading term of its series far below.
fn share_quantile(score: f64, df: f64) -> f64 {
    let ninth = 2.0 / (9.0 * df);
    let cube = 1.0 - ninth + score * ninth.sqrt();
    if cube > 0.4 {
        return cube.powf(1.5);
    }
    let a = 0.5 * df;
    let ln_half_square = (normal::log_lower(score) + libm::lgamma(a + 1.0)) / a;
    (0.5 * (ln_half_square - a.ln())).exp()
}

fn centre(t: f64, df: f64, target: Target) -> Result<f64> {
    let b = mean_share(df);
    let spread = (1.0 + t * t * (1.0 - b * b)).sqrt();
    let mut delta = t * b - target.score * spread;
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut accuracy = Accuracy::Rough;
    for _ in 0..STEPS {
        let tail = integral::tail(t, df, delta, target.is_upper, accuracy)?;
        let reached = score(&tail)?;
        let off = reached - target.score;
        if off > 0.0 {
            low = low.max(delta)
        } else {
            high = high.min(delta)
        }
        let slope = rate_of_score(tail.per_noncentrality, &tail, reached);
        if off.abs() <= within(accuracy) * (1.0 + target.score.abs()) {
            // The score falls as the noncentrality grows.
            let moved =
                delta + halley(off, -slope, tail.per_noncentrality_slope / tail.per_noncentrality, reached);
            if accuracy == Accuracy::Full {
                return Ok(moved);
            }
            accuracy = Accuracy::Full;
            delta = moved;
            (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
            continue;
        }
        delta = guarded(delta, off / slope, 4.0 * spread, low, high);
    }
    Err(Error::NoConvergence { what: "noncentrality" })
}
