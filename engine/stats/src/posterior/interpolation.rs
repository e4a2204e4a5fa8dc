//! Smooth functions carried from a few Chebyshev points to the nodes of a rule.

use super::series::{LOCATION_NODES, Resolution};
use std::sync::LazyLock;

const SIZES: [usize; 6] = [12, 16, 20, 24, 28, 32];

static TABLES: LazyLock<Vec<Interpolation>> = LazyLock::new(|| SIZES.map(Interpolation::new).into());

/// Polynomial interpolation from Chebyshev points to the nodes of the standard rule over the location.
#[derive(Debug)]
pub(super) struct Interpolation {
    points: Vec<f64>,
    /// One row for each node.
    weights: Vec<Vec<f64>>,
}

impl Interpolation {
    /// The smallest table that carries the logarithm of interval probabilities over a stretch of this half length (in standard
    /// deviations) with twelve digits, if one does.
    ///
    /// The normal distribution function has its zeros nearest to the real line at a distance of 2.8; a function analytic to a distance y
    /// of [-1, 1] is interpolated with error (y + sqrt(1 + y^2))^-m (Trefethen, Approximation Theory and Approximation
    /// Practice, theorem 8.2).
    pub(super) fn for_half_length(half: f64) -> Option<&'static Interpolation> {
        let distance = 2.6 / half;
        let needed = 27.6 / (distance + (1.0 + distance * distance).sqrt()).ln();
        TABLES.iter().find(|table| table.points.len() as f64 >= needed)
    }

    fn new(size: usize) -> Self {
        let angle = |j: usize| (j as f64 + 0.5) * std::f64::consts::PI / size as f64;
        let points: Vec<f64> = (0..size).map(|j| angle(j).cos()).collect();
        let nodes = Resolution::Standard.rules().0.gauss.nodes();
        let barycentric = |t: f64| {
            let terms: Vec<f64> = (0..size).map(|j| sign(j) * angle(j).sin() / (t - points[j])).collect();
            let total: f64 = terms.iter().sum();
            terms.iter().map(|term| term / total).collect()
        };
        let weights = nodes.iter().map(|node| barycentric(node.0)).collect();
        Interpolation { points, weights }
    }

    /// The values at the nodes carried over to [`low`, `high`] of a function.
    pub(super) fn carry(&self, low: f64, high: f64, mut f: impl FnMut(f64) -> f64) -> [f64; LOCATION_NODES] {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        let mut sampled = [0.0; 32];
        for (value, t) in sampled.iter_mut().zip(&self.points) {
            *value = f(middle + half * t);
        }
        let mut carried = [0.0; LOCATION_NODES];
        for (value, weights) in carried.iter_mut().zip(&self.weights) {
            *value = weights.iter().zip(&sampled).map(|(w, s)| w * s).sum();
        }
        carried
    }
}

fn sign(j: usize) -> f64 {
    if j.is_multiple_of(2) { 1.0 } else { -1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::special::normal;

    #[test]
    fn the_log_of_the_normal_distribution_is_carried_with_eleven_digits() {
        for (low, high) in [(-1.0, 1.0), (-3.0, 0.0), (-6.0, -3.0), (-2.0, 3.0)] {
            let table = Interpolation::for_half_length(0.5 * (high - low)).unwrap();
            let carried = table.carry(low, high, |z| normal::lower(z).ln());
            let nodes = Resolution::Standard.rules().0.gauss.on(low, high);
            for ((z, _), got) in nodes.zip(carried) {
                assert!((got - normal::lower(z).ln()).abs() < 1e-11, "{z}: {got}");
            }
        }
    }

    #[test]
    fn a_long_stretch_has_no_table() {
        assert!(Interpolation::for_half_length(30.0).is_none());
    }
}
