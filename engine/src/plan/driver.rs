//! The task that brings most of the dose: where lower exposure would tell most.

use crate::model::shift::{Shift, ShiftExposure};
use crate::model::{Agent, Group, Ref, Study, Task};
use std::collections::BTreeMap;

/// The task with the largest share of a group's dose.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// Its name.
    pub task: String,
    /// Its share of the dose of all shifts of the group, by middle values.
    pub share: f64,
}

/// The task that brings most of the dose of a group's shifts; `None` where the doses are not known or only one task has any.
pub fn driving_task(
    study: &Study,
    shifts: &[Shift],
    exposures: &[ShiftExposure],
    group: Ref<Group>,
    agent: Ref<Agent>,
) -> Option<Driver> {
    let mut doses: BTreeMap<Ref<Task>, f64> = BTreeMap::new();
    for exposure in exposures.iter().filter(|e| e.agent == agent && shifts[e.shift].group == group) {
        for task in &exposure.tasks {
            *doses.entry(task.task).or_default() += task.mean.middle()? * task.minutes;
        }
    }
    let total: f64 = doses.values().sum();
    let (&task, dose) = doses.iter().max_by(|a, b| a.1.total_cmp(b.1))?;
    let several = doses.values().filter(|&&dose| dose > 0.0).count() > 1;
    (several && total > 0.0).then(|| Driver { task: study.tasks.name(task).to_owned(), share: dose / total })
}
