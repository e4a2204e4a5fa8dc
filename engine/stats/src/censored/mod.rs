//! Lognormal samples of which some values are known only between bounds.

mod interval;
mod invariant_limits;
mod likelihood;
mod log_product;
mod maximum;
mod observation;
mod profile_limits;
mod quantity;
mod sample;
mod support;

pub use invariant_limits::{InvariantLimits, Restricted};
pub use maximum::{Fit, fit};
pub use observation::Observation;
pub use profile_limits::ProfileLikelihood;
pub use quantity::{Limit, Limits, Quantity};
pub use sample::Sample;
pub use support::{LEAST_INFORMATIVE, informative, require_maximum};

pub(crate) use likelihood::{
    Derivatives, Point, derivatives, log_likelihood_of_exact, log_likelihood_of_groups,
};
pub(crate) use log_product::log_probability as interval_log_probability;
pub(crate) use observation::outside;
pub(crate) use quantity::{Curve, probability_quantile};
