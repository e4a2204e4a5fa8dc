//! What each rule says of each group and limit, with the figures that led to it.

use super::telling::{Telling, of_group};
use crate::page::figure::{Form, with_unit_in};
use crate::page::{Block, Column, Section, Table, Text};
use fullshift_engine::model::Figure;
use fullshift_engine::model::assessment::{GroupResult, RuleResult};
use fullshift_engine::model::profile::Verdict;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "judgement", say.judgement);
    section.say(say.judgement_words);
    for pair in telling.pairs().iter().filter(|pair| pair.groups.iter().any(|g| !g.verdicts.is_empty())) {
        let heads = [say.col_limit, say.col_rule, say.col_verdict, say.col_because, say.col_source];
        let rows =
            pair.groups.iter().flat_map(|group| group.verdicts.iter().map(|rule| row(telling, group, rule)));
        let table = Table::of(heads.map(Column::words).into(), rows.collect());
        let caption = telling.fill(say.judgement_caption, &pair.names());
        let key = format!("judgement-{}-{}", pair.group, pair.agent);
        section.blocks.push(Block::Table(table.captioned(key, caption)));
    }
    vec![section]
}

fn row(telling: &Telling<'_>, group: &GroupResult, rule: &RuleResult) -> Vec<Text> {
    let because = match telling.language.of_the_engine {
        true => rule.because.clone(),
        false => because(telling, group, rule),
    };
    vec![
        format!("{}, {}", telling.kind(group.kind), telling.limit(&group.limit)).into(),
        rule.rule.into(),
        telling.marked(rule.verdict),
        because.into(),
        rule.source.into(),
    ]
}

/// The figures on which a rule rests, in a language that is not the engine's.
fn because(telling: &Telling<'_>, group: &GroupResult, rule: &RuleResult) -> String {
    let say = telling.say();
    let notation = &telling.language.notation;
    let figure = |name: &str, form| {
        of_group(group, name).map_or_else(String::new, |figure| with_unit_in(figure, form, notation))
    };
    if rule.verdict == Verdict::NotGiven {
        return say.because_too_few.to_owned();
    }
    let upper_70 = match of_group(group, "p95") {
        Some(Figure::Given(estimate)) => estimate.further.get("upper_70").copied(),
        _ => None,
    };
    let highest =
        group.plot.figures.iter().map(|figure| figure.high.unwrap_or(f64::INFINITY)).fold(0.0, f64::max);
    let sentence = match rule.rule {
        "screening" => say.because_screening,
        "tolerance" => say.because_p95_70,
        "tolerance-strict" => say.because_p95,
        "exceedance" => say.because_exceedance,
        "mean" => say.because_mean,
        _ => return rule.because.clone(),
    };
    sentence
        .replace("{n}", &group.n.to_string())
        .replace(
            "{highest}",
            &group.limit.value().map_or_else(String::new, |limit| telling.number(highest / limit)),
        )
        .replace("{p95}", &figure("p95", Form::Amount))
        .replace(
            "{upper}",
            &upper_70.map_or_else(|| notation.not_given.to_owned(), |upper| telling.number(upper)),
        )
        .replace("{exceedance}", &figure("exceedance", Form::Share))
        .replace("{mean}", &figure("mean", Form::Amount))
        .replace("{limit}", &telling.limit(&group.limit))
}
