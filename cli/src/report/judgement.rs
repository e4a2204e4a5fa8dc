//! What each rule says of each group and limit, with the figures that led to it.

use super::telling::Telling;
use crate::page::{Block, Column, Section, Table, Text};
use fullshift_engine::model::assessment::{GroupResult, RuleResult};

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
    vec![
        format!("{}, {}", telling.kind(group.kind), telling.limit(&group.limit)).into(),
        telling.language.told(rule.rule).into(),
        telling.marked(rule.verdict),
        rule.because.as_str().into(),
        telling.language.told(rule.source).into(),
    ]
}
