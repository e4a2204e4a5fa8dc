//! What the verdicts would be without the readings that a rule qualifies.

use super::{Found, groups, mixtures, readings, shifts};
use crate::model::assessment::{GroupResult, MixtureResult, RuleResult, ShiftLimit, ShiftResult};
use crate::model::field_quality::{GroupChange, ShiftChange, WithoutQualified};
use crate::model::study::LimitKind;

/// The results with all readings.
pub struct With<'a> {
    /// Those of the shifts.
    pub shifts: &'a [ShiftResult],
    /// Those of the mixtures.
    pub mixtures: &'a [MixtureResult],
    /// Those of the groups.
    pub groups: &'a [GroupResult],
}

/// The verdicts that differ from those with all readings; `found` holds the figures without the qualified ones.
pub fn changes(with: &With, found: &Found) -> WithoutQualified {
    let (other_shifts, other_mixtures) = (shifts::results(found), mixtures::results(found));
    let of_shifts = with.shifts.iter().zip(&other_shifts).flat_map(|(with, without)| of_shift(with, without));
    let of_mixtures = with.mixtures.iter().zip(&other_mixtures).filter_map(|(a, b)| of_mixture(a, b));
    WithoutQualified {
        readings_left: readings::results(found).iter().filter(|reading| reading.used).count(),
        groups: with
            .groups
            .iter()
            .zip(&groups::results(found))
            .flat_map(|(with, without)| of_group(with, without))
            .collect(),
        shifts: of_shifts.chain(of_mixtures).collect(),
    }
}

fn of_group(with: &GroupResult, without: &GroupResult) -> Vec<GroupChange> {
    let rules = with.verdicts.iter().zip(&without.verdicts);
    let changed = rules.filter(|(a, b)| a.verdict != b.verdict);
    let change = |(a, b): (&RuleResult, &RuleResult)| GroupChange {
        group: with.group.clone(),
        agent: with.agent.clone(),
        kind: with.kind,
        rule: a.rule,
        verdict: a.verdict,
        without: b.verdict,
        because: b.because.clone(),
    };
    changed.map(change).collect()
}

fn of_shift(with: &ShiftResult, without: &ShiftResult) -> Vec<ShiftChange> {
    let limits = with.limits.iter().zip(&without.limits);
    let changed = limits.filter(|(a, b)| a.verdict != b.verdict);
    let change = |(a, b): (&ShiftLimit, &ShiftLimit)| ShiftChange {
        shift: with.shift.clone(),
        agent: with.agent.clone(),
        kind: a.kind,
        verdict: a.verdict,
        without: b.verdict,
        because: b.because.clone(),
    };
    changed.map(change).collect()
}

fn of_mixture(with: &MixtureResult, without: &MixtureResult) -> Option<ShiftChange> {
    (with.verdict != without.verdict).then(|| ShiftChange {
        shift: with.shift.clone(),
        agent: with.mixture.clone(),
        kind: LimitKind::Mixture,
        verdict: with.verdict,
        without: without.verdict,
        because: without.because.clone(),
    })
}
