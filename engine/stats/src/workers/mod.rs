//! Differences between workers: the one-way random-effects model on logarithms.
//!
//! `y_ij = location + b_i + e_ij` for value j of worker i, `b_i` and `e_ij` normal and independent, with the variances *between* and
//! *within* workers. [`Repeats`] holds the data, [`profile`] gives every figure at once; the functions behind it stand
//! beside it.

mod anova;
mod between_limits;
mod chi;
mod components;
mod effects;
pub mod f_ratio;
mod location_limits;
mod pivots;
mod profile;
mod profile_likelihood;
mod repeats;
mod share_over;
mod total_limits;
mod within_limits;

pub use anova::{AnalysisOfVariance, analysis_of_variance};
pub use between_limits::{between_sd_confidence_below, between_sd_lower, between_sd_upper};
pub use components::{Likelihood, VarianceComponents, variance_components};
pub use effects::{WorkerEffect, worker_effects};
pub use location_limits::{location_lower, location_upper};
pub use profile::{AboveLimit, Absent, Bounded, Given, WorkersProfile, profile};
pub use profile_likelihood::{
    between_sd_profile_lower, between_sd_profile_upper, within_sd_profile_lower, within_sd_profile_upper,
};
pub use repeats::Repeats;
pub use share_over::{
    OwnFigure, distance_to_limit, distance_to_limit_confidence_below, distance_to_limit_lower,
    distance_to_limit_upper, share_over, share_over_lower, share_over_upper,
};
pub use total_limits::{total_sd_lower, total_sd_upper};
pub use within_limits::{share_between_lower, share_between_upper, within_sd_lower, within_sd_upper};
