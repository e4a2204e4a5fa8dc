//! Lognormal samples of which some values are known only between bounds.

mod interval;
mod likelihood;
mod maximum;
mod observation;
mod profile_limits;
mod quantity;
mod sample;
mod support;

pub use maximum::{Fit, fit};
pub use observation::Observation;
pub use profile_limits::ProfileLikelihood;
pub use quantity::{Limit, Limits, Quantity};
pub use sample::Sample;
pub use support::{LEAST_INFORMATIVE, informative, require_maximum};
