//! The time-weighted average.

use crate::model::shift::{Basis, Reason, TaskExposure};
use crate::model::{Interval, Minutes, Study, Unsampled};

/// `TWA = sum of (task mean x minutes) / reference period`, whatever the length of the shift [OSHA-1910.1000(d)].
/// The error is the reason why there is none.
pub fn over_reference(tasks: &[TaskExposure], reference: Minutes) -> Result<Interval, Reason> {
    if !tasks.iter().any(has_readings) {
        return Err("no tube was drawn in this shift that counts for it".into());
    }
    let dose = tasks.iter().map(|t| t.mean.times(t.minutes)).fold(Interval::ZERO, Interval::plus);
    Ok(dose.times(1.0 / reference.0))
}

/// The same inside the respirators worn, each task's mean divided by its assigned protection factor; `None` where no
/// task of the shift has one.
pub fn inside_respirators(tasks: &[TaskExposure], study: &Study) -> Option<Result<Interval, Reason>> {
    let factor = |task: &TaskExposure| study.tasks[task.task].protection_factor;
    tasks.iter().find_map(factor)?;
    let inside = |task: &TaskExposure| TaskExposure {
        mean: task.mean.times(1.0 / factor(task).unwrap_or(1.0)),
        ..task.clone()
    };
    let tasks: Vec<TaskExposure> = tasks.iter().map(inside).collect();
    Some(over_reference(&tasks, study.shift.reference))
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
