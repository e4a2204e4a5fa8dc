//! The limit itself: the root of Land's equation.
//!
//! Newton's method on the normal score of the share, kept inside a bracket, from the limits that combine those of the location and
//! of the variance by squares.

use super::Location;
use super::integral::{Accuracy, Density, Share};
use crate::special::normal;
use crate::{Error, Result};

const WHAT: Error = Error::NoConvergence { what: "Land's limit" };

/// The trial mean as a function of the hyperbolic coordinate `y`.
struct Trial {
    /// `sqrt(v / n) s`: the mean is `l - step sinh y`.
    step: f64,
    /// `sqrt(v n) s / 2`: the pull is this times `cosh y`.
    pull: f64,
    df: f64,
}

impl Trial {
    fn new(location: &Location) -> Trial {
        let (df, n, s) = (location.df(), location.effective_n(), location.sd_ln());
        Trial { step: (df / n).sqrt() * s, pull: 0.5 * (df * n).sqrt() * s, df }
    }

    /// The normal score of the share below `y`, and its slope in `y`.
    fn score_and_slope(&self, y: f64, accuracy: Accuracy) -> Result<(f64, f64)> {
        let share = Density::new(self.df, self.pull * y.cosh(), accuracy).share_below(y)?;
        let score = score(&share)?;
        let toward_pull = share.per_pull * share.ln_smaller.exp() * self.pull * y.sinh();
        let ln_normal = normal::log_density(score);
        let slope = (share.ln_density - ln_normal).exp() + toward_pull / ln_normal.exp();
        Ok((score, slope))
    }
}

fn score(share: &Share) -> Result<f64> {
    let score = normal::quantile_of_log(share.ln_smaller.min(-f64::MIN_POSITIVE))?;
    Ok(if share.smaller_is_below { score } else { -score })
}

/// The logarithm of the one-sided limit at this confidence.
pub(super) fn ln_limit(location: &Location, confidence: f64, is_upper: bool) -> Result<f64> {
    let trial = Trial::new(location);
    let deviate = normal::quantile(confidence)?;
    let target = if is_upper { -deviate } else { deviate };
    let mut y = (-start(location, deviate, is_upper) / trial.step).asinh();
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut accuracy = Accuracy::Rough;
    for _ in 0..200 {
        let (score, slope) = trial.score_and_slope(y, accuracy)?;
        let off = score - target;
        if off > 0.0 {
            high = high.min(y)
        } else {
            low = low.max(y)
        }
        let step = -off / slope;
        let close = if accuracy == Accuracy::Full { 1e-7 } else { 1e-3 };
        if off.abs() <= close * (1.0 + target.abs()) && slope > 0.0 {
            if accuracy == Accuracy::Full {
                return finished(location, &trial, y, step);
            }
            accuracy = Accuracy::Full;
            (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
            y += step;
            continue;
        }
        y = next(y, if slope > 0.0 { step } else { f64::NAN }, low, high);
    }
    Err(WHAT)
}

/// The last step, taken in the mean itself.
fn finished(location: &Location, trial: &Trial, y: f64, step: f64) -> Result<f64> {
    let limit = location.ln() - trial.step * (y + step).sinh();
    if limit.is_finite() { Ok(limit) } else { Err(WHAT) }
}

/// A Newton step of at most 1.5 that stays inside the bracket; else its middle, or a step towards the open side.
fn next(y: f64, step: f64, low: f64, high: f64) -> f64 {
    let next = y + step.clamp(-1.5, 1.5);
    if next > low && next < high {
        return next;
    }
    match (low.is_finite(), high.is_finite()) {
        (true, true) => 0.5 * (low + high),
        (true, false) => y + 1.0,
        _ => y - 1.0,
    }
}

/// Distance of the limit from the location, roughly: the limits of location and of half the variance combined by squares.
fn start(location: &Location, deviate: f64, is_upper: bool) -> f64 {
    let (v, s) = (location.df(), location.sd_ln());
    let half_variance = 0.5 * s * s;
    let sign = if is_upper { 1.0 } else { -1.0 };
    let beside = deviate * s / location.effective_n().sqrt();
    let ratio = v / chi_squared_point(-sign * deviate, v);
    let above = half_variance * (ratio - 1.0);
    // Below a confidence of one half both limits change sides.
    let sign = if deviate >= 0.0 { sign } else { -sign };
    half_variance + sign * beside.hypot(above)
}

/// Wilson and Hilferty's approximation, kept above zero.
fn chi_squared_point(z: f64, df: f64) -> f64 {
    let ninth = 2.0 / (9.0 * df);
    let cube = (1.0 - ninth + z * ninth.sqrt()).max(0.06);
    df * cube * cube * cube
}
