//! Step 5, summarise: the shift figures of a group into a lognormal profile against each limit.

mod chances;
mod drivers;
mod figures;
mod fit;
mod middles;
mod outline;
mod plot;
mod sampled;
mod second_opinion;
mod workers;
mod working;

use crate::model::belief::Belief;
use crate::model::profile::{Against, Drivers, GroupProfile};
use crate::model::shift::{Figures, MixtureExposure, Shift, ShiftExposure};
use crate::model::{Concentration, Group, Interval, Limit, LimitKind, LimitValues, Ref, Study};
pub use middles::middles;
pub use outline::{Further, outlines};
use rayon::prelude::*;
use sampled::{Known, sample_of, told};
use std::collections::BTreeSet;
use working::Values;

/// The profile of every group against every limit of its agents, in the order of groups and limits, and after them against
/// 1 for every mixture. Where a limit is lowered for long shifts, figures are
/// raised by as much instead, so that one limit serves the whole group.
pub fn groups(input: &Input) -> Vec<GroupProfile> {
    let study = input.study;
    let groups = study.groups.iter().map(|(group, ..)| group);
    let pairs: Vec<(Ref<Group>, Against)> =
        groups.flat_map(|group| held_against(study, group).map(move |against| (group, against))).collect();
    // Each pair on its own, collected in their order: the figures do not depend on the number of threads.
    pairs.into_par_iter().map(|(group, against)| profile(input, group, against)).collect()
}

/// What the figures of a group are held against: the limits of its agents, and 1 for its mixtures.
fn held_against(study: &Study, group: Ref<Group>) -> impl Iterator<Item = Against> + '_ {
    let declared = &study.groups[group];
    let own = |&number: &usize| declared.agents.contains(&study.limits[number].agent);
    let whole = |&number: &usize| study.additive[number].agents.iter().all(|a| declared.agents.contains(a));
    let limits = (0..study.limits.len()).filter(own).map(Against::Limit);
    limits.chain((0..study.additive.len()).filter(whole).map(Against::Mixture))
}

/// What the steps before have found out.
pub struct Input<'a> {
    /// The study.
    pub study: &'a Study,
    /// Its shifts.
    pub shifts: &'a [Shift],
    /// Their figures.
    pub figures: &'a Figures,
    /// The limits in the unit of the agents' figures.
    pub limits: &'a LimitValues,
}

/// What a profile is about: what it is called, the kind and value of its limit and their unit, the last word of the address of its
/// shift figures, and these with the number of their shift.
struct Subject {
    name: String,
    kind: LimitKind,
    limit: f64,
    unit: &'static str,
    figure_word: &'static str,
    values: Vec<(usize, Interval)>,
}

fn subject(input: &Input, group: Ref<Group>, against: Against) -> Subject {
    let study = input.study;
    match against {
        Against::Limit(number) => {
            let limit = &study.limits[number];
            Subject {
                name: study.agents.name(limit.agent).to_owned(),
                kind: limit.kind,
                limit: input.limits.entered[number],
                unit: study.unit(limit.agent).symbol(),
                figure_word: if limit.kind == LimitKind::Ceiling {
                    "highest-reading"
                } else {
                    limit.kind.word()
                },
                values: shift_figures(input, group, number),
            }
        }
        Against::Mixture(number) => Subject {
            name: study.mixture_name(&study.additive[number]),
            kind: LimitKind::Mixture,
            limit: 1.0,
            unit: "",
            figure_word: "index",
            values: indices(input, group, number),
        },
    }
}

fn profile(input: &Input, group: Ref<Group>, against: Against) -> GroupProfile {
    let Input { study, shifts, .. } = input;
    let Subject { name, kind, limit, unit, figure_word, values } = subject(input, group, against);
    let figures =
        values.iter().map(|(shift, v)| (format!("{}/{name}/{figure_word}", shifts[*shift].name), *v));
    let address = format!("{}/{name}/{}", study.groups.name(group), kind.word());
    let shift_figures = Values::new(address, unit, figures);
    let times: Vec<_> = values.iter().map(|(s, _)| shifts[*s].start).collect();
    let by_worker: Vec<_> = values.iter().map(|(s, v)| (shifts[*s].worker, *v)).collect();
    let named: Vec<_> = values.iter().map(|(s, v)| (shifts[*s].name.as_str(), *v)).collect();
    let sample = sample_of(shift_figures.intervals());
    let told = told(shift_figures.intervals(), &sample);
    let known = Known { values: &shift_figures, sample: &sample, told: &told };
    // What takes longest, side by side.
    let (between, (chances, (figures, plot))) = rayon::join(
        || workers::between(&by_worker, &shift_figures, limit),
        || {
            rayon::join(
                || chances::chances(&known, limit, unit, belief_about(study, against)),
                || (figures::profile(&known, limit, unit), plot::plot(&named, &told)),
            )
        },
    );
    GroupProfile {
        group,
        against,
        n: values.len(),
        censored: values.iter().filter(|(_, v)| !v.is_point()).count(),
        figures,
        fit: fit::figures(&shift_figures, &times, unit),
        second_opinion: second_opinion::figures(&shift_figures, unit),
        plot,
        prior: chances.prior,
        chances: chances.figures,
        flat: chances.flat,
        workers: between.workers,
        between: between.figures,
        apart: between.apart,
        drivers: drivers_of(input, group, against),
        values,
    }
}

/// What the user believes of the figures that are held against a limit.
fn belief_about(study: &Study, against: Against) -> Option<&Belief> {
    let Against::Limit(number) = against else { return None };
    let limit = &study.limits[number];
    study.beliefs.iter().find(|belief| (limit.agent, limit.kind) == (belief.agent, belief.kind))
}

/// The figures of a group's shifts that are held against a limit, each with the number of its shift.
fn shift_figures(input: &Input, group: Ref<Group>, number: usize) -> Vec<(usize, Interval)> {
    let limit = &input.study.limits[number];
    let own = |e: &&ShiftExposure| e.agent == limit.agent && input.shifts[e.shift].group == group;
    let figure = |e: &ShiftExposure| {
        // A figure of a shift whose limit is lowered counts as much more as the limit is lower.
        let reduction = input.limits.reductions[number][e.shift];
        Some((e.shift, shift_figure(e, limit, &input.figures.concentrations)?.times(1.0 / reduction)))
    };
    input.figures.exposures.iter().filter(own).filter_map(figure).collect()
}

/// The drivers of a group's TWAs against a limit of that kind.
fn drivers_of(input: &Input, group: Ref<Group>, against: Against) -> Option<Drivers> {
    let study = input.study;
    let Against::Limit(number) = against else { return None };
    let limit = &study.limits[number];
    if limit.kind != LimitKind::Twa {
        return None;
    }
    let agent = study.agents.name(limit.agent);
    let own = |e: &&ShiftExposure| {
        e.agent == limit.agent && input.shifts[e.shift].group == group && !e.is_mostly_borrowed()
    };
    let shift = |exposure| drivers::Shift {
        exposure,
        reduction: input.limits.reductions[number][exposure.shift],
        address: format!("{}/{agent}/{}", input.shifts[exposure.shift].name, limit.kind.word()),
    };
    let shifts: Vec<drivers::Shift> = input.figures.exposures.iter().filter(own).map(shift).collect();
    let address = format!("{}/{agent}/{}", study.groups.name(group), limit.kind.word());
    let (reference, unit) = (study.shift.reference, study.unit(limit.agent).symbol());
    drivers::drivers(&shifts, &address, reference, input.limits.entered[number], unit)
}

/// The indices of a mixture in a group's shifts, each with the number of its shift.
fn indices(input: &Input, group: Ref<Group>, number: usize) -> Vec<(usize, Interval)> {
    let agents = &input.study.additive[number].agents;
    let borrows = |e: &&ShiftExposure| agents.contains(&e.agent) && e.is_mostly_borrowed();
    let borrowed: BTreeSet<usize> = input.figures.exposures.iter().filter(borrows).map(|e| e.shift).collect();
    let own = |e: &&MixtureExposure| {
        e.mixture == number && input.shifts[e.shift].group == group && !borrowed.contains(&e.shift)
    };
    input
        .figures
        .mixtures
        .iter()
        .filter(own)
        .filter_map(|e| Some((e.shift, *e.index.as_ref().ok()?)))
        .collect()
}

/// The figure of a shift that is held against a limit.
fn shift_figure(
    exposure: &ShiftExposure,
    limit: &Limit,
    concentrations: &[Concentration],
) -> Option<Interval> {
    match limit.kind {
        LimitKind::Twa if exposure.is_mostly_borrowed() => None,
        LimitKind::Twa => exposure.twa.as_ref().ok().copied(),
        LimitKind::ShortTerm => {
            let window = exposure.windows.iter().find(|(length, _)| *length == limit.averaging)?;
            window.1.as_ref().ok().map(|w| w.mean)
        }
        LimitKind::Mixture => None,
        LimitKind::Ceiling => exposure.highest_reading.map(|i| concentrations[i].interval),
    }
}
