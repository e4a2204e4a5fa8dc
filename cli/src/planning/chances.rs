//! The chance that numbers of shifts give `below`: a strip a rule, from 3 to 30 shifts, with some of its numbers.

use crate::page::{Block, Column, Section, Table, Text, Tone, figure, number};
use crate::summary::words;
use fullshift_engine::model::plan::{GroupPlan, LimitOutlook, RuleOutlook, WANTED};

/// The steps of a strip, from no chance to certainty.
const STEPS: [char; 8] =
    ['\u{2581}', '\u{2582}', '\u{2583}', '\u{2584}', '\u{2585}', '\u{2586}', '\u{2587}', '\u{2588}'];

/// Numbers of shifts whose chance stands in figures.
const SHOWN: [usize; 6] = [3, 6, 9, 12, 20, 30];

pub(super) fn section(group: &GroupPlan) -> Section {
    let heading =
        Text::of(Tone::Strong, format!("Chance that so many shifts of {} give `below`", group.group));
    let mut section = Section::headed(heading.and(Tone::Quiet, "  were the GM and GSD named true"));
    for outlook in &group.outlooks {
        section.blocks.push(Block::Paragraph(taken(outlook)));
        match outlook.rules.is_empty() {
            true => section.blocks.push(Block::Paragraph("no rule is asked for against this limit".into())),
            false => section.blocks.push(Block::Table(table(outlook))),
        }
    }
    let mut methods: Vec<&str> = Vec::new();
    for rule in group.outlooks.iter().flat_map(|outlook| &outlook.rules) {
        if !methods.contains(&rule.method) {
            methods.push(rule.method);
        }
    }
    let words =
        format!("Methods: {}. Every number from 3 to 30: --format json, --out DIR.", methods.join("; "));
    section.blocks.push(Block::Paragraph(Text::of(Tone::Quiet, words)));
    section
}

/// The limit, and what is taken as true of the shifts held against it.
fn taken(outlook: &LimitOutlook) -> Text {
    let limit = format!(
        "{}, {} limit {}",
        outlook.agent,
        words::limit_kind(outlook.kind),
        figure::limit(&outlook.limit)
    );
    Text::from(limit).and(
        Tone::Quiet,
        format!(
            ": GM {}, GSD {}, 95th percentile {} ({})",
            number::number(outlook.gm),
            number::number(outlook.gsd),
            number::number(outlook.p95),
            outlook.basis
        ),
    )
}

fn table(outlook: &LimitOutlook) -> Table {
    let mut columns = vec![Column::words("rule")];
    columns.extend(SHOWN.map(|n| Column::numbers(n.to_string())));
    columns.push(Column::words("3 to 30 shifts"));
    columns.push(Column::words(format!("{} with", number::percent(WANTED))));
    Table { columns, rows: outlook.rules.iter().map(|rule| row(outlook, rule)).collect(), ..Table::default() }
}

fn row(outlook: &LimitOutlook, rule: &RuleOutlook) -> Vec<Text> {
    let chance = |n: usize| outlook.shifts.iter().position(|&m| m == n).and_then(|at| rule.chances[at]);
    let known = rule.chances.iter().any(Option::is_some);
    let strip: String = rule.chances.iter().map(|chance| chance.map_or(' ', step)).collect();
    let strip = if known { strip } else { "not told".to_owned() };
    let enough = rule.fewest.map_or("no number".to_owned(), |n| words::counted(n, "shift"));
    let numbers = SHOWN.into_iter().map(|n| chance(n).map_or(String::new(), number::percent));
    std::iter::once(rule.rule.to_owned()).chain(numbers).chain([strip, enough]).map(Text::from).collect()
}

fn step(chance: f64) -> char {
    let top = STEPS.len() - 1;
    STEPS[((chance * top as f64).round() as usize).min(top)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_strip_rises_from_no_chance_to_certainty() {
        assert_eq!([0.0, 0.5, 1.0].map(step), [STEPS[0], STEPS[4], STEPS[7]]);
    }
}
