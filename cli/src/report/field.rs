//! The field work in numbers: tubes, leak checks, what its rules did, and what the verdicts would be without.

use super::telling::Telling;
use super::without;
use crate::page::{Block, Column, Section, Table, Text, short};
use fullshift_engine::diagnose::Action;
use fullshift_engine::model::field_quality::RuleCount;

pub(super) fn told(telling: &Telling<'_>, section: &mut Section) {
    let (say, quality) = (telling.say(), &telling.assessment.field_quality);
    let narrowed = telling.copy.group.is_some();
    // Which group a tube that could not be read belonged to is not known.
    let drawn: usize = match narrowed {
        true => quality.readings,
        false => quality.tubes.iter().map(|tube| tube.drawn).sum(),
    };
    let spoiled: usize = quality.tubes.iter().map(|tube| tube.spoiled).sum();
    let count = |n: usize| Text::from(n.to_string());
    section.say(telling.fill(
        if narrowed { say.field_words_of_group } else { say.field_words },
        &[
            ("tubes", count(drawn)),
            ("spoiled", count(spoiled)),
            ("done", count(quality.leak_checks_done)),
            ("needed", count(quality.leak_checks_needed)),
        ],
    ));
    let rules: Vec<&RuleCount> =
        quality.rules.iter().filter(|rule| rule.readings > 0 || rule.reason.is_some()).collect();
    if rules.is_empty() {
        return;
    }
    section.say(telling.fill(
        say.qualified_words,
        &[
            ("qualified", count(quality.qualified)),
            ("all", count(quality.readings)),
            ("rejected", count(quality.rejected)),
            ("table", Text::caption("field-rules")),
        ],
    ));
    section.blocks.push(Block::Table(table(telling, &rules)));
    without::told(telling, section);
}

fn table(telling: &Telling<'_>, rules: &[&RuleCount]) -> Table {
    let say = telling.say();
    let columns = vec![
        Column::words(say.col_code),
        Column::words(say.col_action),
        Column::numbers(say.col_readings),
        Column::words(say.col_study_reason),
    ];
    let rows = rows_of(telling, rules);
    Table::of(columns, rows).captioned("field-rules", say.rules_caption)
}

fn rows_of(telling: &Telling<'_>, rules: &[&RuleCount]) -> Vec<Vec<Text>> {
    let say = telling.say();
    let row = |rule: &&RuleCount| {
        let action = match rule.action {
            Action::Reject => say.action_reject,
            Action::Qualify => say.action_qualify,
            Action::Ignore => say.action_ignore,
        };
        vec![
            format!("{} {}", rule.code, telling.language.told(rule.name)).into(),
            action.into(),
            rule.readings.to_string().into(),
            short(rule.reason.as_deref().unwrap_or_default()).into(),
        ]
    };
    rules.iter().map(row).collect()
}
