//! The share of Land's density below a point, with its slopes.

use crate::numeric::quadrature::{GAUSS_8, GAUSS_16};
use crate::{Error, Result, effort};

/// How accurate an integral must be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Accuracy {
    /// To six digits or so: for the way to a root.
    Rough,
    /// To the last digit.
    Full,
}

impl Accuracy {
    /// Panels that add less than this share no longer count.
    fn negligible(self) -> f64 {
        match self {
            Accuracy::Rough => 1e-8,
            Accuracy::Full => 1e-17,
        }
    }
}

/// `h(x) = sech(x)^v exp(-a tanh x)`, held relative to its peak.
pub(super) struct Density {
    df: f64,
    pull: f64,
    peak: f64,
    tanh_peak: f64,
    cosh_peak: f64,
    width: f64,
    accuracy: Accuracy,
}

/// Integrals of `h` and of `h (tanh x - tanh peak)` over one side, to be multiplied by `exp(ln_scale)`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side {
    pub ln_scale: f64,
    pub mass: f64,
    pub moment: f64,
}

/// The share below `y`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    /// Logarithm of the smaller of the share below and the share above.
    pub ln_smaller: f64,
    pub smaller_is_below: bool,
    /// Logarithm of the density at `y`, normalised.
    pub ln_density: f64,
    /// The derivative of the share below in the pull, over the share below and the share above.
    pub per_pull: f64,
}

impl Density {
    pub fn new(df: f64, pull: f64, accuracy: Accuracy) -> Density {
        let peak = -0.5 * (2.0 * pull / df).asinh();
        let (tanh_peak, cosh_peak) = (peak.tanh(), peak.cosh());
        // Second derivative of -v ln cosh x - a tanh x.
        let bend = (df - 2.0 * pull * tanh_peak) / (cosh_peak * cosh_peak);
        Density { df, pull, peak, tanh_peak, cosh_peak, width: 1.0 / bend.sqrt(), accuracy }
    }

    /// Logarithm of `h` over its value at the peak, and `tanh x - tanh peak`.
    fn log_and_offset(&self, x: f64) -> (f64, f64) {
        effort::one();
        let d = x - self.peak;
        if d.abs() > 20.0 {
            // Far out the ratio of hyperbolic cosines is better taken one by one.
            let offset = x.tanh() - self.tanh_peak;
            return (-self.df * (ln_cosh(x) - ln_cosh(self.peak)) - self.pull * offset, offset);
        }
        let (sinh_half, sinh) = if d.abs() < 0.7 {
            let sinh_half = (0.5 * d).sinh();
            (sinh_half, 2.0 * sinh_half * (1.0 + sinh_half * sinh_half).sqrt())
        } else {
            // Far enough from zero for the difference to lose nothing, and half as dear.
            let up = (0.5 * d).exp();
            let down = 1.0 / up;
            (0.5 * (up - down), 0.5 * (up - down) * (up + down))
        };
        let grown = 2.0 * sinh_half * sinh_half + sinh * self.tanh_peak;
        let offset = sinh / (self.cosh_peak * self.cosh_peak * (1.0 + grown));
        (-self.df * grown.ln_1p() - self.pull * offset, offset)
    }

    /// First derivative of the logarithm of `h`.
    fn slope(&self, x: f64) -> f64 {
        let cosh = x.cosh();
        -self.df * x.tanh() - self.pull / (cosh * cosh)
    }

    /// The integral from `from` outwards: to the right, or to the left.
    fn side(&self, from: f64, to_right: bool) -> Result<Side> {
        let sign = if to_right { 1.0 } else { -1.0 };
        let passes_peak = sign * (self.peak - from) > 0.0;
        let ln_scale = if passes_peak { 0.0 } else { self.log_and_offset(from).0 };
        let mut side = Side { ln_scale, mass: 0.0, moment: 0.0 };
        let mut at = from;
        for _ in 0..4000 {
            let mut next = at + sign * self.panel(at);
            if sign * (self.peak - at) > 0.0 && sign * (next - self.peak) > -0.5 * self.width {
                next = self.peak;
            }
            let before = side.mass;
            self.add_panel(at, next, &mut side);
            at = next;
            let past = sign * (at - self.peak) >= 0.0;
            if past && side.mass - before <= self.accuracy.negligible() * side.mass {
                return Ok(side);
            }
        }
        Err(Error::NoConvergence { what: "integral of Land's density" })
    }

    /// How wide a panel may be that starts at `at`.
    ///
    /// Within it the density neither falls by more than `e^12`, nor curves by more than the rule follows, nor does it come too near its
    /// singularities at half of pi times the imaginary unit. Left of the peak it becomes an exponential, which any panel takes.
    fn panel(&self, at: f64) -> f64 {
        let widths = if self.df < 10.0 { 2.0 } else { 3.0 };
        let curved = (widths * self.width).max(0.5 * (self.peak - at));
        curved.min(12.0 / self.slope(at).abs()).min(1.5 + 0.8 * at.abs())
    }

    fn add_panel(&self, at: f64, next: f64, side: &mut Side) {
        let rule = if self.accuracy == Accuracy::Full { &*GAUSS_16 } else { &*GAUSS_8 };
        for (x, weight) in rule.on(at.min(next), at.max(next)) {
            let (log, offset) = self.log_and_offset(x);
            let mass = weight * (log - side.ln_scale).exp();
            side.mass += mass;
            side.moment += mass * offset;
        }
    }

    /// The share of the density below `y`.
    pub fn share_below(&self, y: f64) -> Result<Share> {
        if self.df == 2.0 {
            return Ok(self.share_of_an_exponential(y));
        }
        let small_is_below = y < self.peak;
        let small = self.side(y, !small_is_below)?;
        let large = self.side(y, small_is_below)?;
        let small_part = (small.ln_scale - large.ln_scale).exp();
        let whole = large.mass + small.mass * small_part;
        let ln_whole = whole.ln() + large.ln_scale;
        let ln_smaller = small.mass.ln() + small.ln_scale - ln_whole;
        let larger_share = large.mass / whole;
        // With A, A1 below and B, B1 above: (A B1 - A1 B) / (A + B)^2, here over the smaller share.
        let moments = large.moment / large.mass - small.moment / small.mass;
        let per_pull = larger_share * if small_is_below { moments } else { -moments };
        let ln_density = self.log_and_offset(y).0 - ln_whole;
        Ok(Share { ln_smaller, smaller_is_below: small_is_below, ln_density, per_pull })
    }
}

impl Density {
    /// The same with two degrees of freedom, where in the coordinate `w = tanh x` the density is `exp(-a w)` on (-1, 1).
    fn share_of_an_exponential(&self, y: f64) -> Share {
        let a = self.pull;
        // 1 + tanh y and 1 - tanh y, without loss near the ends.
        let (below, above) = (2.0 / (1.0 + (-2.0 * y).exp()), 2.0 / (1.0 + (2.0 * y).exp()));
        // The integrals over exp(-a tanh y): a e^(a below) is left out of the first and given by its logarithm.
        let part = |length: f64| -(-a * length).exp_m1() / a;
        let (ln_below, ln_above) = (a * below + part(below).ln(), part(above).ln());
        let ln_whole = ln_below.max(ln_above) + (-(ln_below - ln_above).abs()).exp().ln_1p();
        let smaller_is_below = ln_below < ln_above;
        let (ln_small, ln_large) = if smaller_is_below { (ln_below, ln_above) } else { (ln_above, ln_below) };
        let apart = (below + mean_of_exponential(a, above)) - mean_of_exponential(a, below);
        Share {
            ln_smaller: ln_small - ln_whole,
            smaller_is_below,
            ln_density: -2.0 * ln_cosh(y) - ln_whole,
            per_pull: (ln_large - ln_whole).exp() * apart,
        }
    }
}

/// The mean of the density proportional to `exp(-a t)` on (0, length).
fn mean_of_exponential(a: f64, length: f64) -> f64 {
    let z = a * length;
    let share = if z < 1e-3 { 0.5 - z / 12.0 } else { 1.0 / z - 1.0 / z.exp_m1() };
    length * share
}

fn ln_cosh(x: f64) -> f64 {
    let x = x.abs();
    x - std::f64::consts::LN_2 + (-2.0 * x).exp().ln_1p()
}
