//! A group of an archive in a few lines.

use super::Found;
use super::groups::{few_tubes, held};
use crate::judge::{self, Facts};
use crate::model::assessment::RuleResult;
use crate::model::overview::GroupOutline;
use crate::model::profile::Outline;
use crate::model::{Group, Ref};

/// The lines of a group, one for every limit; `found` holds the rows of this group alone.
pub fn of(found: &Found, group: Ref<Group>, outlines: Vec<Outline>) -> Vec<GroupOutline> {
    let qualified = found.field_work.remarks.qualified();
    outlines.into_iter().map(|outline| line(found, group, qualified, outline)).collect()
}

/// The verdicts on an outline.
pub fn verdicts(found: &Found, outline: &Outline) -> Vec<RuleResult> {
    let held = held(found, outline.against);
    let facts = Facts {
        values: &outline.values,
        limit: held.value,
        unit: held.unit,
        figures: &outline.figures,
        fit: &outline.fit,
        chances: &outline.chances,
        prior: &outline.prior,
        flat: &outline.flat,
        between: &outline.between,
        workers: outline.workers,
        few_tubes: few_tubes(found, outline.against, outline.shifts.iter().copied()),
    };
    judge::verdicts(found.study.rules_for(held.kind), &facts)
}

fn line(found: &Found, group: Ref<Group>, qualified: usize, outline: Outline) -> GroupOutline {
    let (study, held) = (found.study, held(found, outline.against));
    GroupOutline {
        group: study.groups.name(group).to_owned(),
        verdicts: verdicts(found, &outline),
        agent: held.agent,
        kind: held.kind,
        limit: held.limit,
        source: held.source.to_owned(),
        readings: study.readings.len(),
        qualified,
        shifts: found.shifts.len(),
        n: outline.values.len(),
        censored: outline.values.iter().filter(|value| !value.is_point()).count(),
        workers: outline.workers,
        profile: outline.figures,
        fit: outline.fit,
    }
}
