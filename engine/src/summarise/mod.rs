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
use crate::model::{Concentration, Interval, Limit, LimitKind, Study};
use working::Values;

/// The profile of every group against every limit of its agents, in the order of groups and limits; `limits` are in the
/// unit of the agents' figures.
pub fn groups(
    study: &Study,
    shifts: &[Shift],
    exposures: &[ShiftExposure],
    concentrations: &[Concentration],
    limits: &[f64],
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
                .filter_map(|e| Some((e.shift, shift_figure(e, limit, concentrations)?)))
                .collect();
            let unit = study.unit(limit.agent).symbol();
            let agent = study.agents.name(limit.agent);
            let figures = values.iter().map(|(shift, v)| {
                (format!("{}/{agent}/{}", shifts[*shift].name, figure_word(limit.kind)), *v)
            });
            let sample = Values::new(format!("{name}/{agent}/{}", limit.kind.word()), unit, figures);
            let times: Vec<_> = values.iter().map(|(s, _)| shifts[*s].start).collect();
            let chances = chances::chances(&sample, limits[number], unit);
            let by_worker: Vec<_> = values.iter().map(|(s, v)| (shifts[*s].worker, *v)).collect();
            let between = workers::between(&by_worker, &sample, limits[number]);
            profiles.push(GroupProfile {
                group,
                agent: limit.agent,
                limit: number,
                n: values.len(),
                censored: values.iter().filter(|(_, v)| !v.is_point()).count(),
                figures: figures::profile(&sample, limits[number], unit),
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
