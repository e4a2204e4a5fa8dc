//! The time-weighted average.

use crate::model::shift::{Basis, TaskExposure};
use crate::model::{Interval, Minutes, Unsampled};

/// `TWA = sum of (task mean x minutes) / reference period`, whatever the length of the shift [OSHA-1910.1000(d)].
/// The error is the reason why there is none.
pub fn over_reference(tasks: &[TaskExposure], reference: Minutes) -> Result<Interval, String> {
    if !tasks.iter().any(has_readings) {
        return Err("no tube was drawn in this shift that counts for it".to_owned());
    }
    let dose = tasks.iter().map(|t| t.mean.times(t.minutes)).fold(Interval::ZERO, Interval::plus);
    Ok(dose.times(1.0 / reference.0))
}

fn has_readings(task: &TaskExposure) -> bool {
    matches!(task.basis, Basis::Measured | Basis::Unsampled(Unsampled::Borrow))
}

/// Share of the minutes whose task was measured in the shift.
pub fn covered(tasks: &[TaskExposure]) -> f64 {
    // An empty sum of floats is minus zero; a share is not.
    let minutes = |measured: bool| {
        let counted = tasks.iter().filter(|t| !measured || t.basis == Basis::Measured);
        counted.fold(0.0, |sum, t| sum + t.minutes)
    };
    if minutes(false) > 0.0 { minutes(true) / minutes(false) } else { 0.0 }
}
