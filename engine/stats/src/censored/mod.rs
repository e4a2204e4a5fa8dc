//! Lognormal samples of which some values are known only between bounds.

mod equivalent;
mod interval;
mod invariant_limits;
mod likelihood;
mod log_product;
mod marginal;
mod maximum;
mod observation;
mod order_regression;
mod product_limit;
mod profile_limits;
mod quantity;
mod sample;
mod support;
mod turnbull;

pub use invariant_limits::{InvariantLimits, Restricted};
pub use maximum::{Fit, fit};
pub use observation::Observation;
pub use order_regression::{OrderRegression, Plotted, order_regression};
pub use product_limit::{ProductLimit, Step, product_limit};
pub use profile_limits::ProfileLikelihood;
pub use quantity::{Limit, Limits, Quantity};
pub use sample::Sample;
pub use support::{LEAST_INFORMATIVE, informative, require_maximum};
pub use turnbull::{Cell, Turnbull, turnbull};

pub(crate) use interval::truncated as interval_moments;
pub(crate) use likelihood::{
    Derivatives, Point, derivatives, log_likelihood_of_exact, log_likelihood_of_groups,
};
pub(crate) use log_product::log_probability as interval_log_probability;
pub(crate) use marginal::{marginal_slope, peak, restricted_tau};
pub(crate) use observation::outside;
pub(crate) use quantity::{Curve, probability_quantile};
