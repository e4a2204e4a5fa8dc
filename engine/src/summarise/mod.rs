//! Step 5, summarise: the shift figures of a group into a lognormal profile against each limit.

mod chances;
mod figures;
mod fit;
mod middles;
mod sampled;
mod workers;
mod working;

use crate::model::profile::GroupProfile;
use crate::model::shift::{Shift, ShiftExposure};
use crate::model::{Concentration, Interval, Limit, LimitKind, LimitValues, Study};
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
    let mut profiles = Vec::new();
    for (group, name, declared) in study.groups.iter() {
        for (number, limit) in
            study.limits.iter().enumerate().filter(|(_, l)| declared.agents.contains(&l.agent))
        {
            let own = |e: &&ShiftExposure| e.agent == limit.agent && shifts[e.shift].group == group;
            let values: Vec<(usize, Interval)> = exposures
                .iter()
                .filter(own)
                .filter_map(|e| {
                    // A figure of a shift whose limit is lowered counts as much more as the limit is lower.
                    let reduction = limits.reductions[number][e.shift];
                    Some((e.shift, shift_figure(e, limit, concentrations)?.times(1.0 / reduction)))
                })
                .collect();
            let unit = study.unit(limit.agent).symbol();
            let agent = study.agents.name(limit.agent);
            let figures = values.iter().map(|(shift, v)| {
                (format!("{}/{agent}/{}", shifts[*shift].name, figure_word(limit.kind)), *v)
            });
            let sample = Values::new(format!("{name}/{agent}/{}", limit.kind.word()), unit, figures);
            let times: Vec<_> = values.iter().map(|(s, _)| shifts[*s].start).collect();
            let chances = chances::chances(&sample, limits.entered[number], unit);
            let by_worker: Vec<_> = values.iter().map(|(s, v)| (shifts[*s].worker, *v)).collect();
            let between = workers::between(&by_worker, &sample, limits.entered[number]);
            profiles.push(GroupProfile {
                group,
                agent: limit.agent,
                limit: number,
                n: values.len(),
                censored: values.iter().filter(|(_, v)| !v.is_point()).count(),
                figures: figures::profile(&sample, limits.entered[number], unit),
                fit: fit::figures(&sample, &times, unit),
                prior: chances.prior,
                chances: chances.figures,
                workers: between.workers,
                between: between.figures,
                apart: between.apart,
                values,
            });
        }
    }
    profiles
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
