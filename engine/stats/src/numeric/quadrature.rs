//! Integrals of smooth functions: Gauss-Legendre rules of any order and an adaptive Gauss-Kronrod rule.
//!
//! Sources: nodes and weights of the 7/15-point pair from R. Piessens and others, QUADPACK, 1983 (routine QK15);
//! Gauss-Legendre nodes by Newton's method on the Legendre polynomial (Abramowitz and Stegun 25.4.29).

use crate::{Error, Result};
use std::sync::LazyLock;

/// A Gauss-Legendre rule on [-1, 1]: exact for polynomials up to degree `2 n - 1`.
#[derive(Debug, Clone)]
pub struct GaussLegendre {
    nodes: Vec<(f64, f64)>,
}

/// The 8-point rule, ready made.
pub static GAUSS_8: LazyLock<GaussLegendre> = LazyLock::new(|| GaussLegendre::new(8));
/// The 16-point rule, ready made.
pub static GAUSS_16: LazyLock<GaussLegendre> = LazyLock::new(|| GaussLegendre::new(16));
/// The 32-point rule, ready made.
pub static GAUSS_32: LazyLock<GaussLegendre> = LazyLock::new(|| GaussLegendre::new(32));
/// The 64-point rule, ready made.
pub static GAUSS_64: LazyLock<GaussLegendre> = LazyLock::new(|| GaussLegendre::new(64));

impl GaussLegendre {
    /// The rule with `points` nodes, at least one.
    pub fn new(points: usize) -> Self {
        let n = points.max(1);
        let nodes = (0..n).map(|i| node(n, i)).collect();
        GaussLegendre { nodes }
    }

    /// Nodes and weights on [-1, 1], nodes rising.
    pub fn nodes(&self) -> &[(f64, f64)] {
        &self.nodes
    }

    /// Nodes and weights carried over to [`low`, `high`].
    pub fn on(&self, low: f64, high: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        self.nodes.iter().map(move |&(x, w)| (middle + half * x, half * w))
    }

    /// The integral of `f` from `low` to `high`.
    pub fn integral(&self, low: f64, high: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
        self.on(low, high).map(|(x, w)| w * f(x)).sum()
    }
}

/// The `i`-th node, counted from the left, of the `n`-point rule and its weight.
fn node(n: usize, i: usize) -> (f64, f64) {
    let mut x = -(std::f64::consts::PI * (i as f64 + 0.75) / (n as f64 + 0.5)).cos();
    for _ in 0..100 {
        let (p, slope) = legendre(n, x);
        let step = p / slope;
        x -= step;
        if step.abs() <= 1e-16 {
            break;
        }
    }
    if 2 * i + 1 == n {
        x = 0.0;
    }
    let (_, slope) = legendre(n, x);
    (x, 2.0 / ((1.0 - x * x) * slope * slope))
}

/// The Legendre polynomial of degree `n` at `x` and its derivative.
fn legendre(n: usize, x: f64) -> (f64, f64) {
    let (mut before, mut now) = (1.0, x);
    for k in 2..=n {
        let k = k as f64;
        (before, now) = (now, ((2.0 * k - 1.0) * x * now - (k - 1.0) * before) / k);
    }
    if n == 0 {
        return (1.0, 0.0);
    }
    (now, n as f64 * (x * now - before) / (x * x - 1.0))
}

/// Positive Kronrod nodes with the Kronrod weight and the Gauss weight (zero where the node is Kronrod's alone).
const KRONROD: [(f64, f64, f64); 8] = [
    (0.991_455_371_120_812_6, 0.022_935_322_010_529_224, 0.0),
    (0.949_107_912_342_758_5, 0.063_092_092_629_978_55, 0.129_484_966_168_869_7),
    (0.864_864_423_359_769_1, 0.104_790_010_322_250_18, 0.0),
    (0.741_531_185_599_394_4, 0.140_653_259_715_525_92, 0.279_705_391_489_276_65),
    (0.586_087_235_467_691_1, 0.169_004_726_639_267_9, 0.0),
    (0.405_845_151_377_397_2, 0.190_350_578_064_785_4, 0.381_830_050_505_118_9),
    (0.207_784_955_007_898_47, 0.204_432_940_075_298_9, 0.0),
    (0.0, 0.209_482_141_084_727_82, 0.417_959_183_673_469_4),
];

const MAX_PIECES: usize = 2000;

/// The integral of `f` from `low` to `high`, both finite, to the wanted `relative` accuracy.
///
/// Halves the piece with the largest error estimate (difference of the 15- and 7-point rules) until the estimates add up to
/// less than `relative` times the integral. Fails with `NoConvergence` when `f` returns a value that is not finite or after
/// 2000 pieces.
pub fn adaptive(
    what: &'static str,
    relative: f64,
    low: f64,
    high: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Result<f64> {
    let mut pieces = vec![kronrod(low, high, &mut f)];
    while pieces.len() < MAX_PIECES {
        let total: f64 = pieces.iter().map(|p| p.value).sum();
        let error: f64 = pieces.iter().map(|p| p.error).sum();
        if !total.is_finite() {
            break;
        }
        if error <= relative * total.abs() || error < f64::MIN_POSITIVE {
            return Ok(total);
        }
        let worst =
            pieces.iter().enumerate().max_by(|a, b| a.1.error.total_cmp(&b.1.error)).map_or(0, |(i, _)| i);
        let piece = pieces.swap_remove(worst);
        let middle = 0.5 * (piece.low + piece.high);
        pieces.push(kronrod(piece.low, middle, &mut f));
        pieces.push(kronrod(middle, piece.high, &mut f));
    }
    Err(Error::NoConvergence { what })
}

struct Piece {
    low: f64,
    high: f64,
    value: f64,
    error: f64,
}

fn kronrod(low: f64, high: f64, f: &mut impl FnMut(f64) -> f64) -> Piece {
    let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
    let (mut fine, mut coarse) = (0.0, 0.0);
    for &(x, kronrod, gauss) in &KRONROD {
        let at = if x == 0.0 { f(middle) } else { f(middle - half * x) + f(middle + half * x) };
        fine += kronrod * at;
        coarse += gauss * at;
    }
    let difference = ((fine - coarse) * half).abs();
    Piece { low, high, value: fine * half, error: sharpened(difference, (fine * half).abs()) }
}

/// The error of the finer rule, from its difference to the coarser one: far smaller than the difference itself once that
/// is small (QUADPACK's rule).
fn sharpened(difference: f64, size: f64) -> f64 {
    if size == 0.0 { difference } else { difference.min(size * (200.0 * difference / size).powf(1.5)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sixteen_point_rule_integrates_degree_thirty_exactly() {
        let got = GAUSS_16.integral(-1.0, 1.0, |x| x.powi(30));
        assert!((got - 2.0 / 31.0).abs() < 1e-15, "{got}");
    }

    #[test]
    fn weights_of_every_order_add_to_two() {
        for n in 1..80 {
            let total: f64 = GaussLegendre::new(n).nodes().iter().map(|p| p.1).sum();
            assert!((total - 2.0).abs() < 1e-13, "{n}: {total}");
        }
    }

    #[test]
    fn the_five_point_nodes_are_those_of_abramowitz_and_stegun_table_25_4() {
        let rule = GaussLegendre::new(5);
        let printed = [(0.0, 0.568_888_888_888_889), (0.538_469_310_105_683, 0.478_628_670_499_366)];
        for ((x, w), (px, pw)) in rule.nodes()[2..4].iter().zip(printed) {
            assert!((x - px).abs() < 1e-15 && (w - pw).abs() < 1e-15, "{x} {w}");
        }
    }

    #[test]
    fn a_narrow_peak_is_found_by_halving() {
        let got = adaptive("integral", 1e-13, 0.0, 1.0, |x| 1e-3 / ((x - 0.3) * (x - 0.3) + 1e-6)).unwrap();
        let exact = (700.0_f64).atan() + (300.0_f64).atan();
        assert!((got - exact).abs() < 1e-12, "{got} {exact}");
    }

    #[test]
    fn a_function_without_finite_values_is_refused() {
        assert!(adaptive("integral", 1e-10, 0.0, 1.0, |_| f64::NAN).is_err());
    }
}
