//! What a rule tests, in terms in which the chance of its answer can be computed beforehand.

/// The statistical core of a rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Criterion {
    /// Exact limits of the 95th percentile: the upper one below the limit, or the lower one above.
    Percentile {
        /// Confidence of the upper limit.
        upper: f64,
        /// Confidence of the lower limit.
        lower: f64,
    },
    /// The chance under a prior that the 95th percentile lies above the limit; with more shifts it nears the exact limits at the same
    /// confidence.
    Posterior {
        /// Confidence of either side.
        confidence: f64,
    },
    /// Land's limits of the mean.
    Mean {
        /// Confidence of either limit.
        confidence: f64,
    },
    /// The limit of the 95th percentile by rank.
    ByRank {
        /// Its confidence.
        confidence: f64,
    },
    /// All results below a share of the limit that grows with their number, none above the limit.
    AllBelow(&'static [(usize, f64)]),
    /// The share of workers whose own 95th percentile lies above the limit.
    Workers,
}
