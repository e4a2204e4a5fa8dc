//! The verdict of each group against each limit: a sentence each, then all at a glance.

use super::telling::{Telling, group_address, of_group};
use super::without;
use crate::page::figure::Form;
use crate::page::{Block, Section, Table, Text, Tone};
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::{GroupResult, RuleResult};
use fullshift_engine::model::profile::Verdict;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "verdicts", say.verdicts);
    for group in &telling.assessment.groups {
        let mut told = sentence(telling, group)
            .append(between_readings(telling, group))
            .append(screened(telling, group));
        told = told.append(without::beside_verdict(telling, group)).append(figures(telling, group));
        if group.not_one_group.is_some() {
            told = told.then(" ").and(Tone::Open, say.not_one_group);
        }
        section.say(told);
    }
    if telling.assessment.groups.is_empty() {
        section.say(say.no_verdict);
        return vec![section];
    }
    section.blocks.push(Block::Table(table(telling)));
    without::nothing_left(telling, &mut section);
    section.say(Text::of(Tone::Quiet, say.ranges));
    vec![section]
}

/// What the rules of a group say together.
pub(super) fn agreed(group: &GroupResult) -> Option<Verdict> {
    agreed_of(group.verdicts.iter().map(|rule| rule.verdict))
}

/// The one verdict of those that are given; `None` where they differ.
pub(super) fn agreed_of(verdicts: impl Iterator<Item = Verdict>) -> Option<Verdict> {
    let mut given = verdicts.filter(|verdict| *verdict != Verdict::NotGiven);
    let first = given.next().unwrap_or(Verdict::NotGiven);
    given.all(|verdict| verdict == first).then_some(first)
}

fn sentence(telling: &Telling<'_>, group: &GroupResult) -> Text {
    let say = telling.say();
    let given: Vec<&RuleResult> =
        group.verdicts.iter().filter(|rule| rule.verdict != Verdict::NotGiven).collect();
    let rules: Vec<String> = given.iter().map(|rule| telling.language.rule(rule.rule)).collect();
    let verdict = agreed(group);
    let sentence = match verdict {
        Some(Verdict::Below) => say.verdict_below,
        Some(Verdict::Above) => say.verdict_above,
        Some(Verdict::Undecided) => say.verdict_undecided,
        Some(Verdict::NotGiven) => say.verdict_none,
        None => say.verdict_differs,
    };
    let what = if group.kind == LimitKind::Ceiling { say.the_highest_reading } else { say.the_exposure };
    let each: Vec<Text> = given
        .iter()
        .map(|rule| {
            let name = Text::from(telling.language.rule(rule.rule));
            telling.fill(say.verdict_by_rule, &[("verdict", telling.verdict(rule.verdict)), ("rule", name)])
        })
        .collect();
    let each = each.into_iter().reduce(|all, one| all.then(", ").append(one)).unwrap_or_default();
    telling.fill(
        sentence,
        &[
            ("group", Text::of(Tone::Strong, group.group.as_str())),
            ("agent", Text::of(Tone::Strong, group.agent.as_str())),
            ("verdict", telling.verdict(verdict.unwrap_or(Verdict::NotGiven))),
            ("limit", telling.limit_in_words(group.kind, &group.limit)),
            ("rules", telling.language.list(&rules).into()),
            ("what", what.into()),
            ("each", each),
        ],
    )
}

/// How many of the shifts behind a short-term verdict were screened and not measured.
fn screened(telling: &Telling<'_>, group: &GroupResult) -> Text {
    if group.screened == 0 {
        return Text::default();
    }
    let gaps = [("few", group.screened.to_string().into()), ("shifts", group.n.to_string().into())];
    Text::from(" ").append(telling.fill(telling.say().screened_words, &gaps))
}

/// What a ceiling leaves unknown: readings are moments, and the verdict speaks of them alone.
fn between_readings(telling: &Telling<'_>, group: &GroupResult) -> Text {
    if group.kind != LimitKind::Ceiling {
        return Text::default();
    }
    let own =
        telling.assessment.shifts.iter().filter(|s| (&s.group, &s.agent) == (&group.group, &group.agent));
    let limits = own.flat_map(|shift| &shift.limits).filter(|limit| limit.kind == LimitKind::Ceiling);
    let verdicts: Vec<Verdict> = limits.map(|limit| limit.verdict).collect();
    let none_above = verdicts.contains(&Verdict::Below)
        && verdicts.iter().all(|verdict| matches!(verdict, Verdict::Below | Verdict::NotGiven));
    let words = if none_above { telling.say().ceiling_none_above } else { telling.say().ceiling_between };
    Text::from(format!(" {words}"))
}

/// The figures that bear the verdict, where they could be given.
fn figures(telling: &Telling<'_>, group: &GroupResult) -> Text {
    let say = telling.say();
    let [p95, exceedance] = ["p95", "exceedance"].map(|name| of_group(group, name));
    let (Some(p95), Some(exceedance)) = (p95, exceedance) else { return Text::default() };
    if let Some(reason) = p95.reason() {
        return Text::from(format!(" {}: {reason}.", telling.language.figure("p95")));
    }
    let told = telling.fill(
        say.verdict_figures,
        &[
            ("shifts", telling.counted(group.n, say.of_shift_one, say.of_shift_more)),
            ("p95", telling.with_unit(p95, Form::Amount, group_address(group, "p95"))),
            ("exceedance", telling.figure(exceedance, Form::Share, group_address(group, "exceedance"))),
        ],
    );
    Text::from(" ").append(told)
}

fn table(telling: &Telling<'_>) -> Table {
    let say = telling.say();
    let heads = [
        say.col_group,
        say.col_agent,
        say.col_limit,
        say.col_shifts,
        say.col_verdict,
        say.col_p95,
        say.col_exceedance,
    ];
    let rows = telling.assessment.groups.iter().map(|group| {
        let figure = |name, form| {
            of_group(group, name)
                .map_or_else(Text::default, |f| telling.figure(f, form, group_address(group, name)))
        };
        let verdict = match agreed(group) {
            Some(verdict) => telling.marked(verdict),
            None => {
                let verdicts: Vec<_> = group.verdicts.iter().map(|rule| (rule.rule, rule.verdict)).collect();
                by_verdict(telling, &verdicts)
            }
        };
        vec![
            group.group.as_str().into(),
            group.agent.as_str().into(),
            format!("{}, {}", telling.kind(group.kind), telling.limit(&group.limit)).into(),
            group.n.to_string().into(),
            verdict.append(without::at_a_glance(telling, group)),
            figure("p95", Form::Amount),
            figure("exceedance", Form::Share),
        ]
    });
    Table::of(heads.map(|head| telling.words(head)).into(), rows.collect())
        .captioned("glance", say.at_a_glance)
}

/// Each verdict with the rules that give it.
pub(super) fn by_verdict(telling: &Telling<'_>, verdicts: &[(&'static str, Verdict)]) -> Text {
    let mut each: Vec<(Verdict, Vec<String>)> = Vec::new();
    for (rule, verdict) in verdicts {
        let rule = telling.language.told(rule);
        match each.iter_mut().find(|(known, _)| known == verdict) {
            Some((_, rules)) => rules.push(rule),
            None => each.push((*verdict, vec![rule])),
        }
    }
    let said = each
        .into_iter()
        .map(|(verdict, rules)| telling.marked(verdict).then(format!(": {}", rules.join(", "))));
    said.reduce(|all, one| all.then("; ").append(one)).unwrap_or_default()
}
