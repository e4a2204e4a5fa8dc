//! The stretch of ln sigma that carries the posterior, cut into panels.

use super::conditional::DROP;
use super::problem::Problem;
use crate::Result;

/// The longest panel beside the peak: sigma more than doubles over it, and with it all that depends on sigma.
const LONGEST_FIRST: f64 = 0.8;

impl Problem<'_> {
    /// Edges of the panels over tau: finest at the peak, each further one half as long again.
    pub(super) fn panels(&self) -> Result<Vec<f64>> {
        let (mean, spread) = self.sample.rough();
        let mut start = mean;
        let mut profile = |tau: f64| -> Result<f64> {
            let peak = self.peak(tau, start)?;
            start = peak.mu;
            let (low, high) = self.bounds();
            Ok(peak.log_density + peak.width.min(high - low).ln() + self.log_spread(tau))
        };
        let (low, high) = (self.spread.low, self.spread.high);
        let (mode, top) = climb(spread.ln().clamp(low, high), low, high, &mut profile)?;
        let drop = if self.sample.is_complete() { 1.5 * DROP } else { DROP };
        let left = edge((mode, top), drop, low, -1.0, &mut profile)?;
        let right = edge((mode, top), drop, high, 1.0, &mut profile)?;
        Ok(edges(left, mode, right))
    }
}

/// A maximum by steps that grow while they succeed and shrink when they fail. A bounded stretch is scanned first.
fn climb(start: f64, low: f64, high: f64, f: &mut impl FnMut(f64) -> Result<f64>) -> Result<(f64, f64)> {
    let mut best = (start, f(start)?);
    if low.is_finite() && high.is_finite() {
        for i in 0..=8 {
            let tau = low + (high - low) * f64::from(i) / 8.0;
            let value = f(tau)?;
            best = if value > best.1 { (tau, value) } else { best };
        }
    }
    let mut step = 0.25;
    for _ in 0..200 {
        let right = (best.0 + step).min(high);
        let left = (best.0 - step).max(low);
        let (fr, fl) = (f(right)?, f(left)?);
        if fr.max(fl) > best.1 {
            best = if fr > fl { (right, fr) } else { (left, fl) };
            step *= 2.0;
        } else {
            step *= 0.3;
        }
        if step < 0.04 {
            break;
        }
    }
    Ok(best)
}

/// Where the profile has fallen by the drop on one side, or the bound.
fn edge(
    (mode, top): (f64, f64),
    wanted: f64,
    bound: f64,
    side: f64,
    f: &mut impl FnMut(f64) -> Result<f64>,
) -> Result<f64> {
    let clip = |tau: f64| if side < 0.0 { tau.max(bound) } else { tau.min(bound) };
    let (mut inner, mut distance) = (mode, 0.5);
    let mut outer = clip(mode + side * distance);
    for _ in 0..60 {
        if top - f(outer)? > wanted {
            break;
        }
        if outer == bound {
            return Ok(bound);
        }
        inner = outer;
        distance *= 2.0;
        outer = clip(mode + side * distance);
    }
    for _ in 0..5 {
        let middle = 0.5 * (inner + outer);
        let drop = top - f(middle)?;
        if drop > wanted {
            outer = middle;
        } else {
            inner = middle;
        }
        if drop > wanted && drop < wanted + 4.0 {
            break;
        }
    }
    Ok(outer)
}

/// From the mode outward, panels of growing length on either side.
fn edges(left: f64, mode: f64, right: f64) -> Vec<f64> {
    let shortest = (mode - left).min(right - mode).max((right - left) / 12.0).min(LONGEST_FIRST);
    let outward = |end: f64| {
        let (mut all, mut length, mut at) = (Vec::new(), shortest, 0.0);
        while at + 1.3 * length < (end - mode).abs() {
            at += length;
            length *= 1.5;
            all.push(mode + at * (end - mode).signum());
        }
        if end != mode {
            all.push(end);
        }
        all
    };
    let mut all: Vec<f64> = outward(left).into_iter().rev().collect();
    all.push(mode);
    all.extend(outward(right));
    all
}
