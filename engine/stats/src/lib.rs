//! Exact statistics of lognormal exposures, on plain `f64`.
//!
//! Pure mathematics: no word of the trade, no files, no clock, no randomness. Failure is an [`Error`]; no NaN leaves
//! the crate.

pub mod censored;
pub mod comparison;
pub mod complete;
pub mod compliance;
pub mod drawing;
mod effort;
pub mod error;
pub mod fit;
pub mod numeric;
pub mod posterior;
pub mod power;
pub mod shares;
pub mod special;
pub mod strata;
pub mod verify;
pub mod workers;

pub use error::{Error, Result};
