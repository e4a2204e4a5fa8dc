//! Step 4, combine: concentrations and the diary into task means, the TWA, the highest short-term window.

mod compliance;
mod mixture;
mod sampling;
mod segments;
mod shares;
mod task_means;
mod twa;
mod unmeasured;
mod window;

use crate::model::shift::{Figures, Shift, ShiftExposure};
use crate::model::{Agent, Concentration, LimitKind, LimitValues, Minutes, Ref, Study};
use rayon::prelude::*;
use task_means::Borrowed;

/// Averaging time of the worst short window where no short-term limit says otherwise.
const USUAL_WINDOW: Minutes = Minutes(15.0);

/// How much is worked out of every shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// What the profile of its group rests on.
    Figures,
    /// Also how far the figures of the shift may be from the true ones, and the published test of compliance where it is `tested`.
    Shifts { tested: bool },
    /// Also how far those of its tasks may be, and their shares.
    Tasks,
}

/// Why a figure has no limits.
const NOT_ASKED: &str = "its limits were not asked for";

/// The figures of every shift, for every agent of its group and every mixture, that rest on these concentrations.
pub fn figures(
    study: &Study,
    shifts: &[Shift],
    limits: &LimitValues,
    concentrations: Vec<Concentration>,
    depth: Depth,
) -> Figures {
    let exposures = exposures(study, shifts, &concentrations, limits, depth);
    let mixtures = mixture::mixtures(study, shifts, &exposures, limits, &concentrations, depth);
    Figures { concentrations, exposures, mixtures }
}

fn exposures(
    study: &Study,
    shifts: &[Shift],
    concentrations: &[Concentration],
    limits: &LimitValues,
    depth: Depth,
) -> Vec<ShiftExposure> {
    let borrowed = Borrowed::collect(study, shifts, concentrations);
    let given = Given { study, concentrations, limits, borrowed: &borrowed, depth };
    let agents =
        |number: usize| study.groups[shifts[number].group].agents.iter().map(move |&agent| (number, agent));
    let pairs: Vec<(usize, Ref<Agent>)> = (0..shifts.len()).flat_map(agents).collect();
    // Each on its own, collected in their order: the figures do not depend on the number of threads.
    pairs.into_par_iter().map(|(number, agent)| exposure(&given, number, &shifts[number], agent)).collect()
}

/// What the figures of every shift rest on.
struct Given<'a> {
    study: &'a Study,
    concentrations: &'a [Concentration],
    limits: &'a LimitValues,
    borrowed: &'a Borrowed,
    depth: Depth,
}

fn exposure(given: &Given, number: usize, shift: &Shift, agent: Ref<Agent>) -> ShiftExposure {
    let &Given { study, concentrations, limits, depth, .. } = given;
    let used: Vec<usize> = used_readings(shift, agent, concentrations).collect();
    let mut tasks = task_means::of_shift(given, number, shift, agent, &used);
    let twa = twa::over_reference(&tasks, study.shift.reference);
    let strata = (depth != Depth::Figures)
        .then(|| sampling::OfTasks::of(&tasks, study.shift.reference, concentrations));
    let sampling = match (&twa, &strata) {
        (Ok(_), None) => Err(NOT_ASKED.into()),
        (Ok(_), Some(strata)) => strata.twa(study),
        (Err(reason), _) => Err(reason.clone()),
    };
    if let (Some(strata), Depth::Tasks) = (strata, depth) {
        let limits = strata.shares();
        shares::keep(&mut tasks, limits);
    }
    let lengths = window_lengths(study, agent, depth);
    let segments = match lengths.is_empty() {
        true => Vec::new(),
        false => segments::of_shift(study, shift, &used, concentrations),
    };
    let windows: Vec<_> = lengths
        .into_iter()
        .map(|length| (length, window::highest(shift, &segments, length, concentrations, depth)))
        .collect();
    let own = move |kind: LimitKind| {
        (0..study.limits.len())
            .filter(move |&l| study.limits[l].agent == agent && study.limits[l].kind == kind)
    };
    let minutes: f64 = shift.blocks.iter().map(|block| block.minutes.0).sum();
    let tested = matches!(depth, Depth::Tasks | Depth::Shifts { tested: true });
    let compliance = own(LimitKind::Twa).filter(|_| tested).map(|l| {
        // The test sees the mean over the hours worked; the limit stands on the scale of the TWA.
        let limit = limits.in_shift(l, number) * study.shift.reference.0 / minutes;
        (l, compliance::of_shift(shift, &used, limit, concentrations))
    });
    let unmeasured = own(LimitKind::ShortTerm).filter(|_| depth != Depth::Figures).filter_map(|l| {
        let averaging = study.limits[l].averaging;
        let (_, window) = windows.iter().find(|(length, _)| *length == averaging)?;
        let limit = limits.in_shift(l, number);
        Some((l, unmeasured::of_shift(study, &tasks, window, averaging, limit, concentrations)))
    });
    let (compliance, unmeasured) = (compliance.collect(), unmeasured.collect());
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
        compliance,
        unmeasured,
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

fn window_lengths(study: &Study, agent: Ref<Agent>, depth: Depth) -> Vec<Minutes> {
    let own = study.limits.iter().filter(|l| l.agent == agent && l.kind == LimitKind::ShortTerm);
    let mut lengths: Vec<Minutes> = own.map(|l| l.averaging).collect();
    if lengths.is_empty() && depth != Depth::Figures {
        lengths.push(USUAL_WINDOW);
    }
    lengths.sort_by(|a, b| a.0.total_cmp(&b.0));
    lengths.dedup();
    lengths
}
