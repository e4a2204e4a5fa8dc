//! What the verdicts would be without the qualified readings: beside the verdicts themselves, and in full with the field work.

use super::telling::Telling;
use super::verdicts::{agreed_of, by_verdict};
use crate::page::{Section, Text};
use fullshift_engine::model::assessment::GroupResult;
use fullshift_engine::model::field_quality::{GroupChange, ShiftChange, WithoutQualified};
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Figure, LimitKind};

/// The changes, unless nothing would be left to judge by.
fn changes<'a>(telling: &Telling<'a>) -> Option<&'a WithoutQualified> {
    telling.assessment.field_quality.without_qualified.as_ref().filter(|without| without.readings_left > 0)
}

/// What would change of the verdicts on a group against a limit.
fn of_group<'a>(telling: &Telling<'a>, group: &GroupResult) -> Vec<&'a GroupChange> {
    let same = |change: &&GroupChange| {
        (&change.group, &change.agent, change.kind) == (&group.group, &group.agent, group.kind)
            && change.limit.value() == group.limit.value()
    };
    changes(telling).map(|without| without.groups.iter().filter(same).collect()).unwrap_or_default()
}

/// Said behind the verdict on a group, where without the qualified readings it would be another.
pub(super) fn beside_verdict(telling: &Telling<'_>, group: &GroupResult) -> Text {
    let own = of_group(telling, group);
    if own.is_empty() {
        return Text::default();
    }
    Text::from(" ").append(telling.fill(telling.say().verdict_without, &[("each", each(telling, &own))]))
}

/// The same for the table at a glance.
pub(super) fn at_a_glance(telling: &Telling<'_>, group: &GroupResult) -> Text {
    let own = of_group(telling, group);
    if own.is_empty() {
        return Text::default();
    }
    let then = |rule: &'static str, now: Verdict| {
        own.iter().find(|change| change.rule == rule).map_or(now, |change| change.without)
    };
    let verdicts: Vec<(&'static str, Verdict)> =
        group.verdicts.iter().map(|rule| (rule.rule, then(rule.rule, rule.verdict))).collect();
    let verdicts = match agreed_of(verdicts.iter().map(|(_, verdict)| *verdict)) {
        Some(verdict) => telling.marked(verdict),
        None => by_verdict(telling, &verdicts),
    };
    Text::from("; ").append(telling.fill(telling.say().glance_without, &[("verdicts", verdicts)]))
}

/// Said below the verdicts, where none of them would be left.
pub(super) fn nothing_left(telling: &Telling<'_>, section: &mut Section) {
    if telling.assessment.field_quality.without_qualified.as_ref().is_some_and(|w| w.readings_left == 0) {
        section.say(telling.say().without_nothing);
    }
}

/// All of it, with the field work.
pub(super) fn told(telling: &Telling<'_>, section: &mut Section) {
    let say = telling.say();
    if telling.assessment.field_quality.without_qualified.is_none() {
        return;
    }
    let Some(without) = changes(telling) else { return section.say(say.without_nothing) };
    if without.groups.is_empty() && without.shifts.is_empty() {
        return section.say(say.without_same);
    }
    for group in &telling.assessment.groups {
        let own = of_group(telling, group);
        if !own.is_empty() {
            let gaps = [
                ("group", group.group.as_str().into()),
                ("agent", group.agent.as_str().into()),
                ("limit", telling.limit_in_words(group.kind, &group.limit)),
                ("each", each(telling, &own)),
            ];
            section.say(telling.fill(say.without_group, &gaps));
        }
    }
    for (agent, (kind, limit), shifts) in by_limit(&without.shifts) {
        let shift = |change: &&ShiftChange| {
            let gaps = [
                ("shift", change.shift.as_str().into()),
                ("change", turned(telling, change.verdict, change.without)),
            ];
            telling.fill(say.without_shift, &gaps)
        };
        let gaps = [
            ("agent", agent.into()),
            ("limit", telling.limit_in_words(kind, limit)),
            ("shifts", joined(shifts.iter().map(shift))),
        ];
        section.say(telling.fill(say.without_shifts, &gaps));
    }
}

/// The changes of single shifts, those against one limit together.
pub(crate) fn by_limit(changes: &[ShiftChange]) -> Vec<(&str, (LimitKind, &Figure), Vec<&ShiftChange>)> {
    let mut all: Vec<(&str, (LimitKind, &Figure), Vec<&ShiftChange>)> = Vec::new();
    for change in changes {
        let same = |(agent, (kind, limit), _): &&mut (&str, (LimitKind, &Figure), Vec<&ShiftChange>)| {
            (*agent, *kind, limit.value()) == (&change.agent, change.kind, change.limit.value())
        };
        match all.iter_mut().find(same) {
            Some((.., shifts)) => shifts.push(change),
            None => all.push((&change.agent, (change.kind, &change.limit), vec![change])),
        }
    }
    all
}

fn each(telling: &Telling<'_>, changes: &[&GroupChange]) -> Text {
    joined(changes.iter().map(|change| {
        let gaps = [
            ("verdict", turned(telling, change.verdict, change.without)),
            ("rule", telling.language.rule(change.rule).into()),
        ];
        telling.fill(telling.say().verdict_by_rule, &gaps)
    }))
}

fn turned(telling: &Telling<'_>, now: Verdict, then: Verdict) -> Text {
    let gaps = [("then", telling.verdict(then)), ("now", telling.verdict(now))];
    telling.fill(telling.say().instead, &gaps)
}

fn joined(texts: impl Iterator<Item = Text>) -> Text {
    texts.reduce(|all, one| all.then(", ").append(one)).unwrap_or_default()
}
