//! The share that a part has in a sum, with one-sided limits.
//!
//! [`OfTotals`] takes a part and its total from several units drawn alike; [`between`] takes a part and the rest of one sum, each already
//! with limits of its own.

pub(crate) mod answers;
mod beside_the_rest;
mod of_totals;

pub use beside_the_rest::between;
pub use of_totals::OfTotals;
