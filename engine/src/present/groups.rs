//! The groups.

use super::{Found, limit_figure};
use crate::judge::{self, Facts};
use crate::model::assessment::{GroupResult, PosteriorResult, RuleResult, WorkersResult};
use crate::model::profile::GroupProfile;
use crate::model::{Interval, LimitKind};

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
        limit: found.limits.entered[profile.limit],
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
        second_opinion: profile.second_opinion.clone(),
        plot: profile.plot.clone(),
        posterior: PosteriorResult { prior: profile.prior.clone(), figures: profile.chances.clone() },
        verdicts: with_few_tubes(
            judge::verdicts(asked.map(|(name, _)| name.as_str()), &facts),
            found,
            profile,
        ),
        workers: WorkersResult {
            workers: profile.workers,
            apart: profile.apart.iter().map(|&w| study.workers.name(w).to_owned()).collect(),
            figures: profile.between.clone(),
        },
    }
}

/// Verdicts on short-term figures say how many of these rest on few tubes.
fn with_few_tubes(mut verdicts: Vec<RuleResult>, found: &Found, profile: &GroupProfile) -> Vec<RuleResult> {
    let limit = &found.study.limits[profile.limit];
    if limit.kind != LimitKind::ShortTerm {
        return verdicts;
    }
    let own = |shift: usize| found.exposures.iter().find(|e| e.shift == shift && e.agent == profile.agent);
    let few = |shift: usize| {
        let window = own(shift).and_then(|e| e.windows.iter().find(|(length, _)| *length == limit.averaging));
        window.is_some_and(|(_, w)| w.as_ref().is_ok_and(|w| w.readings.len() < judge::TUBES_FOR_A_WINDOW))
    };
    let n = profile.values.iter().filter(|(shift, _)| few(*shift)).count();
    if n > 0 {
        for verdict in &mut verdicts {
            verdict.because += &format!("; {n} of {} windows rest on fewer than three tubes", profile.n);
        }
    }
    verdicts
}
