//! What to do next: what would settle open verdicts, the assessor's recommendations, the tubes and their disposal.

use super::own_words;
use super::telling::{Telling, group_address};
use super::verdicts::agreed;
use crate::figures;
use crate::page::figure::Form;
use crate::page::{Block, Captioned, Column, Point, Section, Table, Text};
use fullshift_engine::model::assessment::GroupResult;
use fullshift_engine::model::profile::Verdict;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let (say, found) = (telling.say(), telling.assessment);
    let mut section = Section::placed(0, "next", say.next);
    reduce(telling, &mut section);
    section.say(open(telling));
    let settle = settle(telling);
    if !settle.is_empty() {
        section.blocks.push(Block::List(settle));
    }
    for (at, group) in telling.assessment.groups.iter().enumerate() {
        if let Some(drawing) = figures::settling(group, telling.language) {
            let key = format!("settling-{at}");
            section.say(telling.fill(say.settle_curve_words, &[("figure", Text::caption(&key))]));
            section.blocks.push(Block::Drawing(Captioned::new(key, drawing.title.clone(), drawing)));
        }
    }
    let stands = |group: &&GroupResult| group.reassess.value().is_some() && all_below(telling, group);
    for group in telling.assessment.groups.iter().filter(stands) {
        let months = telling.figure(&group.reassess, Form::Amount, group_address(group, "reassess"));
        let gaps = [
            ("group", group.group.as_str().into()),
            ("agent", group.agent.as_str().into()),
            ("months", months),
        ];
        section.say(telling.fill(say.reassess_words, &gaps));
    }
    let mut sections = vec![section];
    let recommendations = found.study.report.recommendations.as_deref();
    sections.extend(own_words::section("recommendations", say.recommendations, recommendations));
    let mut disposal = Section::placed(1, "disposal", say.disposal);
    disposal.say(telling.fill(say.disposal_words, &[("table", Text::caption("disposal"))]));
    disposal.blocks.push(Block::Table(tubes(telling)));
    sections.push(disposal);
    sections
}

/// What comes first: where a rule finds a group above a limit.
fn reduce(telling: &Telling<'_>, section: &mut Section) {
    let say = telling.say();
    let points: Vec<Point> =
        telling.assessment.groups.iter().filter_map(|group| above(telling, group)).collect();
    if points.is_empty() {
        return;
    }
    section.say(say.reduce_words);
    section.blocks.push(Block::List(points));
    section.say(say.reduce_order);
}

/// A group above a limit, the rules that find it so, and the task with the largest share of its dose.
fn above(telling: &Telling<'_>, group: &GroupResult) -> Option<Point> {
    let say = telling.say();
    let rules = group.verdicts.iter().filter(|rule| rule.verdict == Verdict::Above);
    let rules: Vec<String> = rules.map(|rule| telling.language.rule(rule.rule)).collect();
    if rules.is_empty() {
        return None;
    }
    let gaps = [
        ("group", group.group.as_str().into()),
        ("agent", group.agent.as_str().into()),
        ("verdict", telling.verdict(Verdict::Above)),
        ("limit", telling.limit_in_words(group.kind, &group.limit)),
        ("rules", telling.language.list(&rules).into()),
    ];
    let largest =
        group.drivers.as_ref().map(|drivers| say.reduce_largest.replace("{task}", &drivers.largest));
    let text = telling.fill(say.reduce_point, &gaps).then(largest.unwrap_or_default());
    Some(Point { depth: 0, number: None, text })
}

/// Whether every verdict on this group and substance is below, against each of its limits: only then may an assessment stand.
fn all_below(telling: &Telling<'_>, group: &GroupResult) -> bool {
    let own =
        telling.assessment.groups.iter().filter(|g| (&g.group, &g.agent) == (&group.group, &group.agent));
    let mut given =
        own.flat_map(|g| &g.verdicts).map(|rule| rule.verdict).filter(|v| *v != Verdict::NotGiven).peekable();
    given.peek().is_some() && given.all(|verdict| verdict == Verdict::Below)
}

fn open(telling: &Telling<'_>) -> Text {
    let say = telling.say();
    let open = telling.assessment.groups.iter().filter(|group| {
        !matches!(agreed(group), Some(Verdict::Below | Verdict::Above)) && !group.verdicts.is_empty()
    });
    let limits: Vec<String> = open
        .map(|g| format!("{}, {}, {} {}", g.group, g.agent, telling.kind(g.kind), telling.limit(&g.limit)))
        .collect();
    match limits.is_empty() {
        true => say.nothing_open.into(),
        false => telling.fill(say.open_words, &[("limits", limits.join("; ").into())]),
    }
}

/// What would settle the open verdicts; rules that say the same share a point.
fn settle(telling: &Telling<'_>) -> Vec<Point> {
    let mut points = Vec::new();
    for group in &telling.assessment.groups {
        let mut said: Vec<(&str, Vec<String>)> = Vec::new();
        for rule in &group.verdicts {
            let (Some(words), name) = (&rule.to_settle, telling.language.rule(rule.rule)) else { continue };
            match said.iter_mut().find(|(known, _)| known == words) {
                Some((_, rules)) => rules.push(name),
                None => said.push((words, vec![name])),
            }
        }
        for (settle, rules) in said {
            let text = telling.fill(
                telling.say().settle_words,
                &[
                    ("group", group.group.as_str().into()),
                    ("agent", group.agent.as_str().into()),
                    ("limit", format!("{} {}", telling.kind(group.kind), telling.limit(&group.limit)).into()),
                    ("rules", telling.language.list(&rules).into()),
                    ("settle", settle.into()),
                ],
            );
            points.push(Point { depth: 0, number: None, text });
        }
    }
    points
}

fn tubes(telling: &Telling<'_>) -> Table {
    let say = telling.say();
    let columns =
        vec![Column::words(say.col_tube), Column::numbers(say.col_spent), Column::words(say.col_contains)];
    let rows = telling.assessment.field_quality.to_dispose.iter().map(|spent| {
        let contains = spent.contains.as_deref().unwrap_or(say.not_told);
        vec![spent.tube.as_str().into(), spent.tubes.to_string().into(), contains.into()]
    });
    Table::of(columns, rows.collect()).captioned("disposal", say.disposal_caption)
}
