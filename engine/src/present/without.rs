//! What the verdicts would be without the readings that a rule qualifies.

use super::groups::index_limit;
use super::{Found, outline, shifts};
use crate::judge;
use crate::model::LimitKind;
use crate::model::assessment::{
    GroupResult, MixtureResult, ReadingResult, RuleResult, ShiftLimit, ShiftResult,
};
use crate::model::field_quality::{GroupChange, ShiftChange, WithoutQualified};
use crate::model::profile::Outline;
use crate::model::shift::MixtureExposure;

/// The results with all readings.
pub struct With<'a> {
    /// Those of the readings.
    pub readings: &'a [ReadingResult],
    /// Those of the shifts.
    pub shifts: &'a [ShiftResult],
    /// Those of the mixtures.
    pub mixtures: &'a [MixtureResult],
    /// Those of the groups.
    pub groups: &'a [GroupResult],
}

/// The verdicts that differ from those with all readings; `found` and `outlines` are without the qualified ones.
pub fn changes(with: &With, found: &Found, outlines: &[Outline]) -> WithoutQualified {
    let of_shifts = with.shifts.iter().zip(shifts::limits(found));
    let of_shifts = of_shifts.flat_map(|(with, without)| of_shift(with, &without));
    let of_mixtures = with.mixtures.iter().zip(&found.figures.mixtures);
    let of_mixtures = of_mixtures.filter_map(|(with, without)| of_mixture(with, without));
    let of_groups = with.groups.iter().zip(outlines);
    WithoutQualified {
        readings_left: with.readings.iter().filter(|r| r.used && r.qualified_by.is_empty()).count(),
        groups: of_groups
            .flat_map(|(with, without)| of_group(with, &outline::verdicts(found, without)))
            .collect(),
        shifts: of_shifts.chain(of_mixtures).collect(),
    }
}

fn of_group(with: &GroupResult, without: &[RuleResult]) -> Vec<GroupChange> {
    let rules = with.verdicts.iter().zip(without);
    let changed = rules.filter(|(a, b)| a.verdict != b.verdict);
    let change = |(a, b): (&RuleResult, &RuleResult)| GroupChange {
        group: with.group.clone(),
        agent: with.agent.clone(),
        kind: with.kind,
        limit: with.limit.clone(),
        rule: a.rule,
        verdict: a.verdict,
        without: b.verdict,
        because: b.because.clone(),
    };
    changed.map(change).collect()
}

fn of_shift(with: &ShiftResult, without: &[ShiftLimit]) -> Vec<ShiftChange> {
    let limits = with.limits.iter().zip(without);
    let changed = limits.filter(|(a, b)| a.verdict != b.verdict);
    let change = |(a, b): (&ShiftLimit, &ShiftLimit)| ShiftChange {
        shift: with.shift.clone(),
        agent: with.agent.clone(),
        kind: a.kind,
        limit: a.limit.clone(),
        verdict: a.verdict,
        without: b.verdict,
        because: b.because.clone(),
    };
    changed.map(change).collect()
}

fn of_mixture(with: &MixtureResult, without: &MixtureExposure) -> Option<ShiftChange> {
    let without = judge::mixture(&without.index, &without.sampling);
    (with.verdict != without.verdict).then(|| ShiftChange {
        shift: with.shift.clone(),
        agent: with.mixture.clone(),
        kind: LimitKind::Mixture,
        limit: index_limit(),
        verdict: with.verdict,
        without: without.verdict,
        because: without.because,
    })
}
