//! Quadrature over a chi distribution.

use crate::numeric::quadrature::{GAUSS_64, GaussLegendre};

/// How far the logarithm of the density falls from the mode to the ends of the range: to 1e-13 of it.
const FALL: f64 = 30.0;

/// The distribution of the root of a chi-square variable, as a density to integrate over.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Chi {
    squared_mode: f64,
    mode: f64,
    total: f64,
}

impl Chi {
    /// The chi distribution with `freedom` degrees of freedom, at least 1.
    pub fn new(freedom: f64) -> Chi {
        let squared_mode = (freedom - 1.0).max(0.0);
        let unscaled = Chi { squared_mode, mode: squared_mode.sqrt(), total: 1.0 };
        let (low, high) = unscaled.range();
        Chi { total: GAUSS_64.integral(low, high, |r| unscaled.density(r)), ..unscaled }
    }

    /// Where the density is not negligible.
    ///
    /// Below the mode the logarithm bends by 2 or more, above it by between 1 and 2, where Newton's method from the far end
    /// finds the fall.
    pub fn range(&self) -> (f64, f64) {
        let mut above = (2.0 * FALL).sqrt();
        if self.mode > 0.0 {
            for _ in 0..4 {
                let u = above / self.mode;
                let excess = self.squared_mode * (u.ln_1p() - u) - 0.5 * above * above + FALL;
                above += excess / (above + above / (1.0 + u));
            }
        }
        ((self.mode - FALL.sqrt()).max(0.0), self.mode + above)
    }

    /// Density at `r`.
    pub fn density(&self, r: f64) -> f64 {
        if self.mode == 0.0 {
            return (-0.5 * r * r).exp() / self.total;
        }
        let u = r / self.mode - 1.0;
        (self.squared_mode * (u.ln_1p() - u - 0.5 * u * u)).exp() / self.total
    }

    /// Nodes and probabilities, in `panels` panels of the rule.
    pub fn nodes(&self, panels: usize, rule: &GaussLegendre) -> Vec<(f64, f64)> {
        let (start, end) = self.range();
        let width = (end - start) / panels as f64;
        let edge = |i: usize| start + width * i as f64;
        (0..panels)
            .flat_map(|i| rule.on(edge(i), edge(i + 1)))
            .map(|(r, weight)| (r, weight * self.density(r)))
            .collect()
    }
}
