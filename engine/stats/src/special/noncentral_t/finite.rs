//! Tails for few, whole degrees of freedom: a finite sum, and one integral of a bell curve where their number is odd.
//!
//! With `A = t / sqrt(nu)`, `B = 1 / (1 + A^2)`, `m = delta A B` and `J_k` the integral of `x^k phi(A x - delta) exp(-x^2/2)` over
//! `x > 0`,
//!
//! `J_0 = sqrt(B) exp(-delta^2 B / 2) Phi(m / sqrt(B))`, `J_1 = m J_0 + B phi(delta)`, `J_k = m J_(k-1) + (k - 1) B J_(k-2)`,
//!
//! and the tail below `t` grows by `A c_k J_k`, `c_k = 1 / (2^(k/2) Gamma(k/2 + 1))`, as the degrees of freedom go from `k` to `k + 2`
//! with `A` kept. It starts from `Phi(-delta)` at none, and from Owen's T function at one. With `t` and `delta` of one sign
//! every term is positive and nothing cancels.
//!
//! Source: D. B. Owen, A survey of properties and applications of the noncentral t-distribution, Technometrics 10 (1968)
//! 445-478 (recalled, not consulted); the recursion here is derived anew, without the normalising factors.

use super::integral::Tail;
use crate::numeric::quadrature::GAUSS_32;
use crate::special::normal;
use std::f64::consts::{FRAC_2_PI, PI};

/// Up to here the sum is shorter than the integral.
const MOST_DF: f64 = 100.0;
/// A tail below this is left to the integral: one minus the other tail would lose its digits.
const SMALLEST: f64 = 4e-3;

/// The tail above (`is_upper`) or below a `t` of at least zero; nothing where the sum does not serve.
///
/// Serves whole `df` to 100, a `noncentrality` of at least zero and tails from 0.004 to 0.996, with a relative error below 1e-12 (against the
/// integral, in the tests).
pub(super) fn tail(t: f64, df: f64, noncentrality: f64, is_upper: bool) -> Option<Tail> {
    if df > MOST_DF || df.fract() != 0.0 || noncentrality < 0.0 {
        return None;
    }
    let slope = t / df.sqrt();
    let moments = Moments::new(slope, noncentrality);
    let is_odd = df % 2.0 != 0.0;
    let (lower, upper) = if is_odd { moments.at_one() } else { moments.at_none() };
    let run = moments.run(df, if is_odd { 1.0 } else { 0.0 });
    let lower_tail = lower + slope * run.sum;
    let upper_tail = upper - slope * run.sum;
    if lower_tail.is_nan() || lower_tail < SMALLEST || upper_tail < SMALLEST {
        return None;
    }
    let [before, at, after, last] = run.around;
    Some(Tail {
        is_upper,
        ln_scale: 0.0,
        value: if is_upper { upper_tail } else { lower_tail },
        per_t: at / df.sqrt(),
        per_noncentrality: before,
        density_slope: (noncentrality * after - slope * last) / df,
        per_noncentrality_slope: slope * at - noncentrality * before,
    })
}

/// What the recursion of the `J_k` is made of.
struct Moments {
    /// `A`.
    slope: f64,
    noncentrality: f64,
    /// `B`.
    variance: f64,
    /// `m`.
    mean: f64,
    /// `delta sqrt(B)`.
    distance: f64,
}

/// The sum of the `c_k J_k` below `nu`, and `J_(nu-1)` to `J_(nu+2)` over the normaliser of the chi distribution.
struct Run {
    sum: f64,
    around: [f64; 4],
}

impl Moments {
    fn new(slope: f64, noncentrality: f64) -> Moments {
        let variance = 1.0 / (1.0 + slope * slope);
        Moments {
            slope,
            noncentrality,
            variance,
            mean: noncentrality * slope * variance,
            distance: noncentrality * variance.sqrt(),
        }
    }

    /// Lower and upper tail at no degrees of freedom.
    fn at_none(&self) -> (f64, f64) {
        (normal::upper(self.noncentrality), normal::lower(self.noncentrality))
    }

    /// Lower and upper tail at one degree of freedom.
    fn at_one(&self) -> (f64, f64) {
        if self.slope <= 1.0 {
            let lower = normal::upper(self.distance) + 2.0 * owen_t(self.distance, self.slope);
            return (lower, 1.0 - lower);
        }
        // The same with slope and its reciprocal exchanged.
        let across = self.distance * self.slope;
        let between = 1.0 - 2.0 * normal::upper(self.distance);
        let upper = normal::lower(across) * between + 2.0 * owen_t(across, 1.0 / self.slope);
        (1.0 - upper, upper)
    }

    fn run(&self, df: f64, first: f64) -> Run {
        let spread = self.variance.sqrt();
        let mut now =
            spread * (-0.5 * self.distance * self.distance).exp() * normal::lower(self.mean / spread);
        let mut next = self.mean * now + self.variance * normal::density(self.noncentrality);
        let (mut k, mut sum) = (0.0, 0.0);
        let (mut share, mut next_share) = (1.0, FRAC_2_PI.sqrt());
        let mut counts = first == 0.0;
        let mut before = 0.0;
        while k < df {
            if counts {
                sum += share * now;
            }
            counts = !counts;
            (before, now, next) = (now, next, self.mean * next + (k + 1.0) * self.variance * now);
            (share, next_share) = (next_share, share / (k + 2.0));
            k += 1.0;
        }
        let last = self.mean * next + (df + 1.0) * self.variance * now;
        Run { sum, around: [before, now, next, last].map(|j| j * df * share) }
    }
}

/// Owen's T: the integral of `exp(-h^2 (1 + x^2) / 2) / (1 + x^2)` from 0 to `a`, over two pi; `h` at least 0, `a` from 0 to 1.
fn owen_t(h: f64, a: f64) -> f64 {
    let half_square = 0.5 * h * h;
    // Beyond nine deviations nothing is left.
    let reach = if h * a > 9.0 { 9.0 / h } else { a };
    GAUSS_32.integral(0.0, reach, |x| (-half_square * (1.0 + x * x)).exp() / (1.0 + x * x)) / (2.0 * PI)
}
