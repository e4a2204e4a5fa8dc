//! The task that brings most of the dose: where lower exposure would tell most.

use crate::model::Study;
use crate::model::profile::Drivers;

/// The task with the largest share of a group's dose.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// Its name.
    pub task: String,
    /// Its share of the dose of all shifts of the group, by middle values.
    pub share: f64,
}

/// The task that brings most of a group's dose; `None` where only one task brings any.
pub fn driving_task(study: &Study, drivers: &Drivers) -> Option<Driver> {
    let shares = drivers.shares.iter().filter_map(|(task, share)| Some((*task, share.value()?)));
    if shares.clone().filter(|(_, share)| *share > 0.0).count() < 2 {
        return None;
    }
    let (task, share) = shares.into_iter().find(|(task, _)| *task == drivers.halved.task)?;
    Some(Driver { task: study.tasks.name(task).to_owned(), share })
}
