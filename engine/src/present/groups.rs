//! The groups.

use super::{Found, limit_figure};
use crate::judge::{self, Facts};
use crate::model::Interval;
use crate::model::assessment::{GroupResult, PosteriorResult, WorkersResult};
use crate::model::profile::GroupProfile;

/// Every group, agent and limit.
pub fn results(found: &Found) -> Vec<GroupResult> {
    found.profiles.iter().map(|profile| result(found, profile)).collect()
}

fn result(found: &Found, profile: &GroupProfile) -> GroupResult {
    let study = found.study;
    let limit = &study.limits[profile.limit];
    let values: Vec<Interval> = profile.values.iter().map(|(_, value)| *value).collect();
    let facts = Facts {
        values: &values,
        limit: found.limits[profile.limit],
        unit: study.unit(profile.agent).symbol(),
        figures: &profile.figures,
    };
    let asked = study.rules.iter().filter(|(kind, _)| *kind == limit.kind).flat_map(|(_, names)| names);
    GroupResult {
        group: study.groups.name(profile.group).to_owned(),
        agent: study.agents.name(profile.agent).to_owned(),
        kind: limit.kind,
        limit: limit_figure(found, profile.limit),
        source: limit.source.clone(),
        n: profile.n,
        censored: profile.censored,
        profile: profile.figures.clone(),
        fit: profile.fit.clone(),
        posterior: PosteriorResult { prior: profile.prior.clone(), figures: profile.chances.clone() },
        verdicts: judge::verdicts(asked.map(|(name, _)| name.as_str()), &facts),
        workers: WorkersResult {
            workers: profile.workers,
            apart: profile.apart.iter().map(|&w| study.workers.name(w).to_owned()).collect(),
            figures: profile.between.clone(),
        },
    }
}
