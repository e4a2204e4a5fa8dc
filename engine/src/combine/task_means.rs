//! The mean concentration of each task of a shift, measured or by the task's rule for unsampled minutes.

use super::shares::{dose, shares};
use super::{Depth, Given, NOT_ASKED, sampling, used_readings};
use crate::model::shift::{Basis, Shift, TaskExposure};
use crate::model::{Agent, Concentration, Group, Interval, Ref, Study, Task, Unsampled};
use std::collections::HashMap;

/// The readings from which a task without readings may borrow: number of the shift and position of each.
pub struct Borrowed(HashMap<Kept, Vec<(usize, usize)>>);

/// Readings are kept by group, task and agent.
type Kept = (Ref<Group>, Ref<Task>, Ref<Agent>);

impl Borrowed {
    /// Collects every group's readings with the number of their shift.
    pub fn collect(study: &Study, shifts: &[Shift], concentrations: &[Concentration]) -> Borrowed {
        let mut map: HashMap<_, Vec<_>> = HashMap::new();
        if study.tasks.iter().any(|(.., task)| task.unsampled == Unsampled::Borrow) {
            for (number, shift) in shifts.iter().enumerate() {
                for &agent in &study.groups[shift.group].agents {
                    for i in used_readings(shift, agent, concentrations) {
                        let Some(task) = study.readings[concentrations[i].reading].task else { continue };
                        map.entry((shift.group, task, agent)).or_default().push((number, i));
                    }
                }
            }
        }
        Borrowed(map)
    }

    fn for_shift(&self, number: usize, shift: &Shift, task: Ref<Task>, agent: Ref<Agent>) -> Vec<usize> {
        let all = self.0.get(&(shift.group, task, agent));
        all.map_or(Vec::new(), |list| list.iter().filter(|(s, _)| *s != number).map(|(_, i)| *i).collect())
    }
}

/// The tasks of a shift in the order of the study's tasks, each with its mean. Empty means are zero until their rule
/// has been applied.
pub fn of_shift(
    given: &Given,
    number: usize,
    shift: &Shift,
    agent: Ref<Agent>,
    used: &[usize],
) -> Vec<TaskExposure> {
    let &Given { study, concentrations, borrowed, depth, .. } = given;
    let mut tasks: Vec<TaskExposure> = minutes_by_task(shift)
        .into_iter()
        .map(|(task, minutes)| {
            let readings: Vec<usize> = used
                .iter()
                .copied()
                .filter(|&i| study.readings[concentrations[i].reading].task == Some(task))
                .collect();
            measured_or_empty(study, task, minutes, readings, concentrations)
        })
        .collect();
    let highest = highest_measured(&tasks);
    for task in &mut tasks {
        if task.basis != Basis::Measured {
            let lent = borrowed.for_shift(number, shift, task.task, agent);
            apply_rule(task, lent, highest, concentrations);
        }
    }
    // The limits of a shift rest on those of its tasks only where a task without readings is bounded by them.
    let bounded = || {
        tasks.iter().any(|task| !matches!(task.basis, Basis::Measured | Basis::Unsampled(Unsampled::Zero)))
    };
    if depth == Depth::Figures || (depth != Depth::Tasks && !bounded()) {
        return tasks;
    }
    let doses: Vec<Interval> = tasks.iter().map(dose).collect();
    for (task, share) in tasks.iter_mut().zip(shares(&doses)) {
        task.share = share;
        task.sampling = sampling::of_task(study, task, concentrations);
    }
    tasks
}

fn minutes_by_task(shift: &Shift) -> Vec<(Ref<Task>, f64)> {
    let mut list: Vec<(Ref<Task>, f64)> = Vec::new();
    for block in &shift.blocks {
        match list.iter_mut().find(|(task, _)| *task == block.task) {
            Some((_, minutes)) => *minutes += block.minutes.0,
            None => list.push((block.task, block.minutes.0)),
        }
    }
    list.sort_by_key(|(task, _)| *task);
    list
}

fn measured_or_empty(
    study: &Study,
    task: Ref<Task>,
    minutes: f64,
    readings: Vec<usize>,
    concentrations: &[Concentration],
) -> TaskExposure {
    let (mean, basis) = match mean(&readings, concentrations) {
        Some(mean) => (mean, Basis::Measured),
        None => (Interval::ZERO, Basis::Unsampled(study.tasks[task].unsampled)),
    };
    TaskExposure {
        task,
        minutes,
        readings,
        mean,
        basis,
        share: Err(NOT_ASKED.into()),
        sampling: Err(NOT_ASKED.into()),
    }
}

/// Arithmetic mean of readings; a reading drawn over a longer time weighs by its time. `None` without readings.
fn mean(readings: &[usize], concentrations: &[Concentration]) -> Option<Interval> {
    let timed = readings.iter().all(|&i| concentrations[i].drawn_minutes.is_some());
    let weight = |i: usize| if timed { concentrations[i].drawn_minutes.unwrap_or(1.0) } else { 1.0 };
    let total: f64 = readings.iter().map(|&i| weight(i)).sum();
    let sum = readings.iter().map(|&i| concentrations[i].interval.times(weight(i))).reduce(Interval::plus)?;
    Some(sum.times(1.0 / total))
}

/// The upper end of the highest task mean measured in the shift, if any.
fn highest_measured(tasks: &[TaskExposure]) -> Option<f64> {
    tasks.iter().filter(|t| t.basis == Basis::Measured).map(|t| t.mean.high()).max_by(f64::total_cmp)
}

fn apply_rule(
    task: &mut TaskExposure,
    lent: Vec<usize>,
    highest: Option<f64>,
    concentrations: &[Concentration],
) {
    let bounds = highest.and_then(|high| Interval::new(0.0, high)).unwrap_or(Interval::ZERO);
    match task.basis {
        Basis::Unsampled(Unsampled::Bounds) => task.mean = bounds,
        Basis::Unsampled(Unsampled::Borrow) => match mean(&lent, concentrations) {
            Some(mean) => (task.mean, task.readings) = (mean, lent),
            None => (task.mean, task.basis) = (bounds, Basis::NothingToBorrow),
        },
        Basis::Unsampled(Unsampled::Zero) | Basis::Measured | Basis::NothingToBorrow => {}
    }
}
