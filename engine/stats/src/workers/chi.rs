//! Quadrature over a chi distribution.

use crate::numeric::quadrature::GaussLegendre;

/// Width within which the density has fallen by e^-38 from its mode: its logarithm bends by at least 1 everywhere.
const REACH: f64 = 8.72;

/// The distribution of the root of a chi-square variable, as a density to integrate over.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Chi {
    squared_mode: f64,
    mode: f64,
    total: f64,
}

impl Chi {
    /// The chi distribution with `freedom` degrees of freedom, at least 1.
    pub fn new(freedom: f64, rule: &GaussLegendre) -> Chi {
        let squared_mode = (freedom - 1.0).max(0.0);
        let unscaled = Chi { squared_mode, mode: squared_mode.sqrt(), total: 1.0 };
        let (low, high) = unscaled.range();
        let middle = unscaled.mode.clamp(low, high);
        let total = rule.integral(low, middle, |r| unscaled.density(r))
            + rule.integral(middle, high, |r| unscaled.density(r));
        Chi { total, ..unscaled }
    }

    /// Where the density is not negligible.
    pub fn range(&self) -> (f64, f64) {
        ((self.mode - REACH).max(0.0), self.mode + REACH)
    }

    /// Density at `r`.
    pub fn density(&self, r: f64) -> f64 {
        if self.mode == 0.0 {
            return (-0.5 * r * r).exp() / self.total;
        }
        let u = r / self.mode - 1.0;
        (self.squared_mode * (u.ln_1p() - u - 0.5 * u * u)).exp() / self.total
    }

    /// Nodes and probabilities from `low` upwards, in `panels` panels of the rule.
    pub fn nodes(&self, low: f64, panels: usize, rule: &GaussLegendre) -> Vec<(f64, f64)> {
        let (start, end) = self.range();
        let start = start.max(low);
        if start >= end {
            return Vec::new();
        }
        let width = (end - start) / panels as f64;
        let edge = |i: usize| start + width * i as f64;
        (0..panels)
            .flat_map(|i| rule.on(edge(i), edge(i + 1)))
            .map(|(r, weight)| (r, weight * self.density(r)))
            .collect()
    }
}
