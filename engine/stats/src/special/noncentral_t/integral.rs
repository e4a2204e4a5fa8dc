//! One tail of the noncentral t as an integral over the logarithm of the standard deviation's share.

use super::finite;
use crate::special::gamma::stirling_remainder;
use crate::special::mills::{FRAC_1_SQRT_2PI, is_near_zero, ratio_away, upper_near_zero};
use crate::special::normal;
use crate::{Error, Result, effort};

const WHAT: Error = Error::NoConvergence { what: "noncentral t integral" };

/// How well a rule and the one shifted by half a step must agree. The two together are right to the square of that or better.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Accuracy {
    /// To six digits: for the way to a root.
    Rough,
    /// To thirteen digits.
    Full,
}

impl Accuracy {
    fn agreement(self) -> f64 {
        match self {
            Accuracy::Rough => 1e-3,
            Accuracy::Full => 5e-8,
        }
    }

    /// The first step, over the width of the sharpest feature: chosen so that the first two rules mostly agree.
    fn first_step(self) -> f64 {
        match self {
            Accuracy::Rough => 1.4,
            Accuracy::Full => 0.8,
        }
    }

    /// Terms below this share of the sum no longer count.
    fn negligible(self) -> f64 {
        match self {
            Accuracy::Rough => 1e-9,
            Accuracy::Full => 1e-17,
        }
    }
}

/// Up to here the chi part falls so slowly to the left that the grid is stretched.
const STRETCHED_DF: f64 = 8.0;

/// A tail and its derivatives, all to be multiplied by `exp(ln_scale)`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tail {
    pub is_upper: bool,
    pub ln_scale: f64,
    pub value: f64,
    /// The density of t.
    pub per_t: f64,
    /// The derivative of the upper tail in the noncentrality.
    pub per_noncentrality: f64,
    /// The slope of the density in t.
    pub density_slope: f64,
    /// The derivative of `per_noncentrality` in the noncentrality.
    pub per_noncentrality_slope: f64,
}

impl Tail {
    pub fn probability(&self) -> f64 {
        self.value * self.ln_scale.exp()
    }

    pub fn ln_probability(&self) -> f64 {
        self.value.ln() + self.ln_scale
    }
}

/// The smaller tail at `t`, or one of the two where neither is small.
pub(super) fn smaller(t: f64, df: f64, noncentrality: f64) -> Result<Tail> {
    let off = t * (1.0 - 0.25 / df) - noncentrality;
    let first = tail(t, df, noncentrality, off > 0.0, Accuracy::Full)?;
    if first.probability() > 0.7 { tail(t, df, noncentrality, off <= 0.0, Accuracy::Full) } else { Ok(first) }
}

/// The tail above (`is_upper`) or below `t`. A negative `t` is turned over first.
pub(super) fn tail(t: f64, df: f64, noncentrality: f64, is_upper: bool, accuracy: Accuracy) -> Result<Tail> {
    if t < 0.0 {
        let turned = tail(-t, df, -noncentrality, !is_upper, accuracy)?;
        return Ok(Tail {
            is_upper,
            density_slope: -turned.density_slope,
            per_noncentrality_slope: -turned.per_noncentrality_slope,
            ..turned
        });
    }
    match finite::tail(t, df, noncentrality, is_upper) {
        Some(tail) => Ok(tail),
        None => integrated(t, df, noncentrality, is_upper, accuracy),
    }
}

/// The tail above or below a `t` of at least zero, by the integral.
pub(super) fn integrated(
    t: f64,
    df: f64,
    noncentrality: f64,
    is_upper: bool,
    accuracy: Accuracy,
) -> Result<Tail> {
    let integrand = Integrand { t, df, noncentrality, sign: if is_upper { -1.0 } else { 1.0 }, accuracy };
    let sums = integrand.settled_sums()?;
    let normaliser = (df / std::f64::consts::PI).sqrt() * (-stirling_remainder(0.5 * df)).exp();
    Ok(Tail {
        is_upper,
        ln_scale: sums.reference,
        value: normaliser * sums.tail,
        per_t: normaliser * sums.per_t,
        per_noncentrality: normaliser * sums.per_noncentrality,
        density_slope: normaliser * sums.density_slope,
        per_noncentrality_slope: normaliser * sums.per_noncentrality_slope,
    })
}

/// `Phi(sign (t e^u - delta)) exp(-(nu/2)(e^(2u) - 1 - 2u))` as a function of `u`.
struct Integrand {
    t: f64,
    df: f64,
    noncentrality: f64,
    sign: f64,
    accuracy: Accuracy,
}

#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    reference: f64,
    tail: f64,
    per_t: f64,
    per_noncentrality: f64,
    density_slope: f64,
    per_noncentrality_slope: f64,
}

/// The integrand at one point: tail, normal density, `t e^u - delta` and `e^u`.
struct Term {
    tail: f64,
    density: f64,
    offset: f64,
    share: f64,
}

impl Sums {
    fn add(&mut self, term: &Term, weight: f64) {
        let density = weight * term.density;
        let bent = density * term.offset;
        self.tail += weight * term.tail;
        self.per_noncentrality += density;
        self.per_t += density * term.share;
        self.density_slope -= bent * term.share * term.share;
        self.per_noncentrality_slope += bent;
    }

    /// Whether tail and both derivatives agree. One alone may agree by chance: where its error happens to pass through zero.
    fn agrees_with(&self, other: &Sums, agreement: f64) -> bool {
        let near = |a: f64, b: f64, allowed: f64| (a - b).abs() <= allowed * (a + b);
        near(self.tail, other.tail, agreement)
            && near(self.per_noncentrality, other.per_noncentrality, 4.0 * agreement)
            && near(self.per_t, other.per_t, 4.0 * agreement)
    }

    fn scaled(self, step: f64, reference: f64) -> Sums {
        Sums {
            reference,
            tail: self.tail * step,
            per_t: self.per_t * step,
            per_noncentrality: self.per_noncentrality * step,
            density_slope: self.density_slope * step,
            per_noncentrality_slope: self.per_noncentrality_slope * step,
        }
    }

    fn joined(self, other: Sums) -> Sums {
        Sums {
            reference: 0.0,
            tail: self.tail + other.tail,
            per_t: self.per_t + other.per_t,
            per_noncentrality: self.per_noncentrality + other.per_noncentrality,
            density_slope: self.density_slope + other.density_slope,
            per_noncentrality_slope: self.per_noncentrality_slope + other.per_noncentrality_slope,
        }
    }
}

impl Integrand {
    /// The exponent of the chi part and the argument of the normal part at `u`, with `e^u`.
    fn parts(&self, u: f64) -> (f64, f64, f64) {
        effort::one();
        let (grown, share) = if u.abs() < 0.35 {
            let grown = u.exp_m1();
            (grown, 1.0 + grown)
        } else {
            let share = u.exp();
            (share - 1.0, share)
        };
        let exponent = -0.5 * self.df * (2.0 * (grown - u) + grown * grown);
        (exponent, self.sign * (self.t * share - self.noncentrality), share)
    }

    /// First and second derivative of the logarithm of the integrand at `u`.
    fn slopes(&self, u: f64) -> (f64, f64) {
        let (_, x, share) = self.parts(u);
        let pull = self.sign * self.t * share;
        let hazard = normal::hazard_lower(x);
        let square = share * share;
        let slope = self.df * (1.0 - square) + pull * hazard;
        let curvature = -2.0 * self.df * square + pull * hazard * (1.0 - pull * (hazard + x));
        (slope, curvature)
    }

    /// The `u` of the peak, to a quarter of its width, with logarithm and curvature there. Newton's method kept inside a bracket.
    fn peak(&self) -> (f64, f64, f64) {
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        let (mut u, mut bend) = (0.0, -2.0 * self.df);
        for _ in 0..200 {
            let (slope, curvature) = self.slopes(u);
            bend = if curvature < 0.0 { curvature } else { -2.0 * self.df };
            if slope > 0.0 {
                low = u
            } else {
                high = u
            }
            let mut step = -slope / bend;
            if step.abs() * (-bend).sqrt() < 0.25 {
                break;
            }
            step = step.clamp(-2.0, 2.0);
            if !(u + step > low && u + step < high) {
                step = 0.5 * (low + high) - u;
            }
            u += step;
        }
        let (exponent, x, _) = self.parts(u);
        (u, exponent + normal::log_lower(x), bend)
    }

    /// A first step that resolves the peak and, where it shows, the flank of the normal part.
    fn first_step(&self, log: f64, curvature: f64) -> f64 {
        let mut sharpest = -curvature;
        if self.noncentrality > 0.0 {
            let flank = (self.noncentrality / self.t).ln();
            let (exponent, _, share) = self.parts(flank);
            if exponent > log - 40.0 {
                sharpest = sharpest.max(self.noncentrality.powi(2) + 2.0 * self.df * share * share);
            }
        }
        // The chi part of few degrees of freedom has its own scale in the complex plane.
        let longest =
            if self.df < STRETCHED_DF && self.accuracy == Accuracy::Full { 0.24 } else { f64::INFINITY };
        (self.accuracy.first_step() / sharpest.sqrt()).min(longest)
    }

    /// The integrand at `u`, over `exp(reference)`.
    fn term(&self, u: f64, reference: f64) -> Term {
        let (exponent, x, share) = self.parts(u);
        let chi = exponent - reference;
        let offset = self.sign * x;
        if x < 0.0 && !is_near_zero(x) {
            let density = FRAC_1_SQRT_2PI * (chi - 0.5 * x * x).exp();
            return Term { tail: density * ratio_away(-x), density, offset, share };
        }
        let weight = chi.exp();
        let density = if x < 39.0 { FRAC_1_SQRT_2PI * (-0.5 * x * x).exp() } else { 0.0 };
        let lower = if is_near_zero(x) { upper_near_zero(-x) } else { 1.0 - density * ratio_away(x) };
        Term { tail: weight * lower, density: weight * density, offset, share }
    }

    /// Terms at `start`, `start + step`, ... of the grid around `at`, summed until they no longer count.
    fn one_way(
        &self,
        at: f64,
        start: f64,
        step: f64,
        (reference, floor): (f64, f64),
        sums: &mut Sums,
    ) -> Result<()> {
        for k in 0..4_000_000_u32 {
            let place = start + step * f64::from(k);
            let (u, weight) =
                if self.df < STRETCHED_DF { (at + place.sinh(), place.cosh()) } else { (at + place, 1.0) };
            let term = self.term(u, reference);
            sums.add(&term, weight);
            if weight * term.tail <= self.accuracy.negligible() * sums.tail.max(floor) && k > 0 {
                return Ok(());
            }
        }
        Err(WHAT)
    }

    /// The trapezoidal sum on the grid `start + k step`, for all whole `k`, without the factor `step`.
    fn grid(&self, at: f64, start: f64, step: f64, scale: (f64, f64)) -> Result<Sums> {
        let mut sums = Sums::default();
        self.one_way(at, start, step, scale, &mut sums)?;
        self.one_way(at, start - step, -step, scale, &mut sums)?;
        Ok(sums)
    }

    fn settled_sums(&self) -> Result<Sums> {
        let (at, reference, curvature) = self.peak();
        let mut step = self.first_step(reference, curvature);
        let mut sums = self.grid(at, 0.0, step, (reference, 0.0))?;
        for _ in 0..22 {
            let between = self.grid(at, 0.5 * step, step, (reference, sums.tail))?;
            let agreed = sums.agrees_with(&between, self.accuracy.agreement());
            sums = sums.joined(between);
            step *= 0.5;
            if agreed && sums.tail > 0.0 {
                return Ok(sums.scaled(step, reference));
            }
        }
        Err(WHAT)
    }
}
