//! Bayesian inference for a lognormal distribution from exact values and intervals, by deterministic quadrature.

mod conditional;
mod distribution;
mod grid;
mod interpolation;
mod prior;
mod problem;
mod series;
mod support;

pub use distribution::Posterior;
pub use prior::{LocationPrior, Prior, SpreadPrior};
pub use series::Resolution;
