//! The groups.

use super::settling::settled;
use super::{Found, left_out, limit_figure};
use crate::judge::{self, Facts};
use crate::model::assessment::{
    DriverResult, DriversResult, GroupResult, PosteriorResult, Raised, WorkersResult,
};
use crate::model::profile::{Against, Drivers, GroupProfile};
use crate::model::shift::{ShiftExposure, Window};
use crate::model::{Figure, Interval, Limit, LimitKind, Ref, Study, Task};
use std::collections::BTreeSet;

/// Every group, agent and limit.
pub fn results(found: &Found) -> Vec<GroupResult> {
    found.profiles.iter().map(|profile| result(found, profile)).collect()
}

/// What a profile is held against, as the page says it.
pub struct Held<'a> {
    /// What is held against it.
    pub agent: String,
    /// The kind of limit.
    pub kind: LimitKind,
    /// The limit.
    pub limit: Figure,
    /// Its value in the unit of the figures.
    pub value: f64,
    /// Their unit.
    pub unit: &'static str,
    /// Where the user took it from.
    pub source: &'a str,
}

/// What a profile is held against.
pub fn held<'a>(found: &Found<'a>, against: Against) -> Held<'a> {
    let study = found.study;
    match against {
        Against::Limit(number) => {
            let limit = &study.limits[number];
            Held {
                agent: study.agents.name(limit.agent).to_owned(),
                kind: limit.kind,
                limit: limit_figure(found, number),
                value: found.limits.entered[number],
                unit: study.unit(limit.agent).symbol(),
                source: &limit.source,
            }
        }
        Against::Mixture(number) => Held {
            agent: study.mixture_name(&study.additive[number]),
            kind: LimitKind::Mixture,
            limit: index_limit(),
            value: 1.0,
            unit: "",
            source: "OSHA-1910.1000(d)(2)",
        },
    }
}

/// What the index of a mixture is held against.
pub fn index_limit() -> Figure {
    Figure::between(1.0, 1.0, 1.0, "", "the sum of TWA over limit may not exceed it")
}

fn result(found: &Found, profile: &GroupProfile) -> GroupResult {
    let study = found.study;
    let held = held(found, profile.against);
    let values: Vec<Interval> = profile.values.iter().map(|(_, value)| *value).collect();
    let facts = Facts {
        values: &values,
        limit: held.value,
        unit: held.unit,
        figures: &profile.figures,
        fit: &profile.fit,
        chances: &profile.chances,
        prior: &profile.prior,
        flat: profile.flat.as_ref().map_or(&[], |(_, figures)| figures),
        between: &profile.between,
        workers: profile.workers,
        few_tubes: few_tubes(found, profile.against, profile.values.iter().map(|(shift, _)| *shift)),
    };
    let address = format!("{}/{}/{}", study.groups.name(profile.group), held.agent, held.kind.word());
    let verdicts = judge::verdicts(study.rules_for(held.kind), &facts);
    let verdicts = settled(verdicts, found, profile, &facts, &address);
    let apart: Vec<String> = profile.apart.iter().map(|&w| study.workers.name(w).to_owned()).collect();
    let gm = profile.figures.iter().find(|(name, _)| *name == "gm").map(|(_, figure)| figure);
    let posterior = |(prior, figures): (&String, &Vec<(&'static str, Figure)>)| PosteriorResult {
        prior: prior.clone(),
        figures: figures.clone(),
    };
    GroupResult {
        group: study.groups.name(profile.group).to_owned(),
        agent: held.agent,
        kind: held.kind,
        limit: held.limit,
        source: held.source.to_owned(),
        n: profile.n,
        censored: profile.censored,
        left_out: left_out::of(found, profile),
        raised: raised(found, profile),
        screened: facts.few_tubes,
        profile: profile.figures.clone(),
        fit: profile.fit.clone(),
        second_opinion: profile.second_opinion.clone(),
        plot: profile.plot.clone(),
        posterior: posterior((&profile.prior, &profile.chances)),
        posterior_flat: profile.flat.as_ref().map(|(prior, figures)| posterior((prior, figures))),
        not_one_group: judge::not_one_group(&profile.between, &apart),
        reassess: judge::reassess(held.kind, gm, held.value, &verdicts, &study.reassessment),
        verdicts,
        workers: WorkersResult { workers: profile.workers, apart, figures: profile.between.clone() },
        drivers: profile.drivers.as_ref().map(|drivers| driving(study, drivers)),
    }
}

/// The shifts whose limit is lowered: their figures are raised instead, so that one limit serves the whole group.
fn raised(found: &Found, profile: &GroupProfile) -> Vec<Raised> {
    let Against::Limit(number) = profile.against else { return Vec::new() };
    let reductions = &found.limits.reductions[number];
    let of_shift = |&(shift, _): &(usize, Interval)| {
        let factor = 1.0 / reductions[shift];
        (factor != 1.0).then(|| Raised { shift: found.shifts[shift].name.clone(), factor })
    };
    profile.values.iter().filter_map(of_shift).collect()
}

fn driving(study: &Study, drivers: &Drivers) -> DriversResult {
    let task = |(task, share): &(Ref<Task>, Figure)| DriverResult {
        task: study.tasks.name(*task).to_owned(),
        share: share.clone(),
    };
    DriversResult {
        tasks: drivers.shares.iter().map(task).collect(),
        largest: study.tasks.name(drivers.halved.task).to_owned(),
        p95_halved: drivers.halved.p95.clone(),
        exceedance_halved: drivers.halved.exceedance.clone(),
    }
}

/// How many of `shifts` have no window with enough tubes, against a short-term limit.
pub fn few_tubes(found: &Found, against: Against, shifts: impl Iterator<Item = usize>) -> usize {
    let Against::Limit(number) = against else { return 0 };
    let limit = &found.study.limits[number];
    if limit.kind != LimitKind::ShortTerm {
        return 0;
    }
    let few = |exposure: &&ShiftExposure| exposure.agent == limit.agent && rests_on_few(exposure, limit);
    let few: BTreeSet<usize> = found.figures.exposures.iter().filter(few).map(|e| e.shift).collect();
    shifts.filter(|shift| few.contains(shift)).count()
}

fn rests_on_few(exposure: &ShiftExposure, limit: &Limit) -> bool {
    let window = exposure.windows.iter().find(|(length, _)| *length == limit.averaging);
    window.is_some_and(|(_, w)| w.as_ref().is_ok_and(Window::is_screening))
}
