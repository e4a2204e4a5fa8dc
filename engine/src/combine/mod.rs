//! Step 4, combine: concentrations and the diary into task means, the TWA, the highest short-term window.

mod mixture;
mod sampling;
mod segments;
mod shares;
mod task_means;
mod twa;
mod window;

pub use mixture::mixtures;

use crate::model::shift::{Shift, ShiftExposure};
use crate::model::{Agent, Concentration, LimitKind, Minutes, Ref, Study};
use task_means::Borrowed;

/// Averaging time of the worst short window where no short-term limit says otherwise.
const USUAL_WINDOW: Minutes = Minutes(15.0);

/// The figures of every shift for every agent of its group, in the order of the shifts.
pub fn shifts(study: &Study, shifts: &[Shift], concentrations: &[Concentration]) -> Vec<ShiftExposure> {
    let borrowed = Borrowed::collect(study, shifts, concentrations);
    let mut exposures = Vec::new();
    for (number, shift) in shifts.iter().enumerate() {
        for &agent in &study.groups[shift.group].agents {
            exposures.push(exposure(study, number, shift, agent, concentrations, &borrowed));
        }
    }
    exposures
}

fn exposure(
    study: &Study,
    number: usize,
    shift: &Shift,
    agent: Ref<Agent>,
    concentrations: &[Concentration],
    borrowed: &Borrowed,
) -> ShiftExposure {
    let used: Vec<usize> = used_readings(shift, agent, concentrations).collect();
    let tasks = task_means::of_shift(study, number, shift, agent, &used, concentrations, borrowed);
    let twa = twa::over_reference(&tasks, study.shift.reference);
    let sampling = match &twa {
        Ok(_) => sampling::of_shift(study, &tasks, study.shift.reference, concentrations),
        Err(reason) => Err(reason.clone()),
    };
    let segments = segments::of_shift(study, shift, &used, concentrations);
    let windows = window_lengths(study, agent)
        .into_iter()
        .map(|length| (length, window::highest(shift, &segments, length, concentrations)))
        .collect();
    let by_end = |a: &usize, b: &usize| {
        let ends = |i: usize| (concentrations[i].interval.high(), concentrations[i].interval.low());
        let ((high_a, low_a), (high_b, low_b)) = (ends(*a), ends(*b));
        high_a.total_cmp(&high_b).then(low_a.total_cmp(&low_b)).then(b.cmp(a))
    };
    let highest_reading = used.iter().copied().max_by(by_end);
    let covered = twa::covered(&tasks);
    ShiftExposure {
        shift: number,
        agent,
        twa_inside: twa::inside_respirators(&tasks, study),
        tasks,
        twa,
        sampling,
        covered,
        windows,
        highest_reading,
        segments,
    }
}

/// Positions of a shift's readings of an agent that take part in its figures.
fn used_readings<'a>(
    shift: &'a Shift,
    agent: Ref<Agent>,
    concentrations: &'a [Concentration],
) -> impl Iterator<Item = usize> + 'a {
    shift
        .readings
        .iter()
        .copied()
        .filter(move |&i| concentrations[i].agent == agent && concentrations[i].why_not.is_none())
}

fn window_lengths(study: &Study, agent: Ref<Agent>) -> Vec<Minutes> {
    let own = study.limits.iter().filter(|l| l.agent == agent && l.kind == LimitKind::ShortTerm);
    let mut lengths: Vec<Minutes> = own.map(|l| l.averaging).collect();
    if lengths.is_empty() {
        lengths.push(USUAL_WINDOW);
    }
    lengths.sort_by(|a, b| a.0.total_cmp(&b.0));
    lengths.dedup();
    lengths
}
