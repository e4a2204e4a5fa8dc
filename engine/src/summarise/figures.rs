//! The figures of a profile.

use crate::model::{Figure, Interval};

/// The figures of shift values against a limit, in the order in which they are printed.
pub fn profile(values: &[Interval], limit: f64, unit: &str) -> Vec<(&'static str, Figure)> {
    let _ = (values, limit, unit);
    Vec::new()
}
