//! Step 5, summarise: the shift figures of a group into a lognormal profile against each limit.

mod chances;
mod figures;
mod fit;
mod middles;
mod plot;
mod sampled;
mod second_opinion;
mod workers;
mod working;

use crate::model::profile::GroupProfile;
use crate::model::shift::{Shift, ShiftExposure};
use crate::model::{Concentration, Group, Interval, Limit, LimitKind, LimitValues, Ref, Study};
use rayon::prelude::*;
use working::Values;

/// The profile of every group against every limit of its agents, in the order of groups and limits; `limits` are in the
/// unit of the agents' figures. Where a limit is lowered for long shifts, figures are raised by as much instead, so that
/// one limit serves the whole group.
pub fn groups(
    study: &Study,
    shifts: &[Shift],
    exposures: &[ShiftExposure],
    concentrations: &[Concentration],
    limits: &LimitValues,
) -> Vec<GroupProfile> {
    let pairs: Vec<(Ref<Group>, usize)> = study
        .groups
        .iter()
        .flat_map(|(group, _, declared)| {
            let own = |&number: &usize| declared.agents.contains(&study.limits[number].agent);
            (0..study.limits.len()).filter(own).map(move |number| (group, number))
        })
        .collect();
    let input = Input { study, shifts, exposures, concentrations, limits };
    // Each pair on its own, collected in their order: the figures do not depend on the number of threads.
    pairs.into_par_iter().map(|(group, number)| profile(&input, group, number)).collect()
}

struct Input<'a> {
    study: &'a Study,
    shifts: &'a [Shift],
    exposures: &'a [ShiftExposure],
    concentrations: &'a [Concentration],
    limits: &'a LimitValues,
}

fn profile(input: &Input, group: Ref<Group>, number: usize) -> GroupProfile {
    let Input { study, shifts, .. } = input;
    let (limit, entered) = (&study.limits[number], input.limits.entered[number]);
    let (unit, agent) = (study.unit(limit.agent).symbol(), study.agents.name(limit.agent));
    let values = shift_figures(input, group, number);
    let figures = values
        .iter()
        .map(|(shift, v)| (format!("{}/{agent}/{}", shifts[*shift].name, figure_word(limit.kind)), *v));
    let address = format!("{}/{agent}/{}", study.groups.name(group), limit.kind.word());
    let sample = Values::new(address, unit, figures);
    let times: Vec<_> = values.iter().map(|(s, _)| shifts[*s].start).collect();
    let chances = chances::chances(&sample, entered, unit);
    let by_worker: Vec<_> = values.iter().map(|(s, v)| (shifts[*s].worker, *v)).collect();
    let named: Vec<_> = values.iter().map(|(s, v)| (shifts[*s].name.as_str(), *v)).collect();
    let between = workers::between(&by_worker, &sample, entered);
    GroupProfile {
        group,
        agent: limit.agent,
        limit: number,
        n: values.len(),
        censored: values.iter().filter(|(_, v)| !v.is_point()).count(),
        figures: figures::profile(&sample, entered, unit),
        fit: fit::figures(&sample, &times, unit),
        second_opinion: second_opinion::figures(&sample, unit),
        plot: plot::plot(&named),
        prior: chances.prior,
        chances: chances.figures,
        workers: between.workers,
        between: between.figures,
        apart: between.apart,
        values,
    }
}

/// The figures of a group's shifts that are held against a limit, each with the number of its shift.
fn shift_figures(input: &Input, group: Ref<Group>, number: usize) -> Vec<(usize, Interval)> {
    let limit = &input.study.limits[number];
    let own = |e: &&ShiftExposure| e.agent == limit.agent && input.shifts[e.shift].group == group;
    let figure = |e: &ShiftExposure| {
        // A figure of a shift whose limit is lowered counts as much more as the limit is lower.
        let reduction = input.limits.reductions[number][e.shift];
        Some((e.shift, shift_figure(e, limit, input.concentrations)?.times(1.0 / reduction)))
    };
    input.exposures.iter().filter(own).filter_map(figure).collect()
}

/// The figure of a shift that is held against a limit.
fn shift_figure(
    exposure: &ShiftExposure,
    limit: &Limit,
    concentrations: &[Concentration],
) -> Option<Interval> {
    match limit.kind {
        LimitKind::Twa => exposure.twa.as_ref().ok().copied(),
        LimitKind::ShortTerm => {
            let window = exposure.windows.iter().find(|(length, _)| *length == limit.averaging)?;
            window.1.as_ref().ok().map(|w| w.mean)
        }
        LimitKind::Ceiling => exposure.highest_reading.map(|i| concentrations[i].interval),
    }
}

/// The word for a shift's figure in its address.
fn figure_word(kind: LimitKind) -> &'static str {
    match kind {
        LimitKind::Ceiling => "highest-reading",
        other => other.word(),
    }
}
