//! What was asked: the substances, their limits, the groups.

use super::own_words;
use super::telling::Telling;
use crate::page::{Block, Column, Section, Table, Text, number};
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::LimitHead;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "scope", say.scope);
    section.say(extent(telling));
    section.say(telling.fill(
        say.scope_reference,
        &[("limits", Text::caption("limits")), ("groups", Text::caption("groups"))],
    ));
    section.blocks.push(Block::Table(limits(telling)));
    section.blocks.push(Block::Table(groups(telling)));
    let mut sections = vec![section];
    sections.extend(own_words::section(
        "background",
        say.background,
        telling.assessment.study.report.background.as_deref(),
    ));
    sections
}

fn extent(telling: &Telling<'_>) -> Text {
    let (say, found) = (telling.say(), telling.assessment);
    let shifts: std::collections::BTreeSet<&str> = found.shifts.iter().map(|s| s.shift.as_str()).collect();
    let day = |stamp: &str| Text::from(telling.language.date(stamp));
    let period = match telling.days() {
        None => say.not_told.into(),
        Some((first, last)) if first == last => telling.fill(say.period_day, &[("date", day(first))]),
        Some((first, last)) => telling.fill(say.period_days, &[("from", day(first)), ("to", day(last))]),
    };
    telling.fill(
        say.scope_words,
        &[
            ("groups", telling.counted(found.study.groups.len(), say.group_one, say.group_more)),
            ("shifts", telling.counted(shifts.len(), say.of_shift_one, say.of_shift_more)),
            ("readings", telling.counted(found.readings.len(), say.with_reading_one, say.with_reading_more)),
            ("site", found.study.site.as_str().into()),
            ("period", period),
        ],
    )
}

fn limits(telling: &Telling<'_>) -> Table {
    let (say, study) = (telling.say(), &telling.assessment.study);
    let heads = [say.col_agent, say.col_cas, say.col_kind, say.col_limit, say.col_terms, say.col_source];
    let mut rows: Vec<Vec<Text>> = Vec::new();
    for limit in &study.limits {
        let agent = study.agents.iter().find(|agent| agent.agent == limit.agent);
        rows.push(vec![
            limit.agent.as_str().into(),
            agent.and_then(|agent| agent.cas.as_deref()).unwrap_or(say.not_told).into(),
            telling.kind(limit.kind).into(),
            entered(telling, limit).into(),
            terms(telling, limit).into(),
            limit.source.as_deref().unwrap_or(say.not_told).into(),
        ]);
    }
    for group in telling.assessment.groups.iter().filter(|group| group.kind == LimitKind::Mixture) {
        let row: Vec<Text> = vec![
            group.agent.as_str().into(),
            "–".into(),
            telling.kind(group.kind).into(),
            telling.limit(&group.limit).into(),
            "".into(),
            group.source.as_str().into(),
        ];
        if !rows.contains(&row) {
            rows.push(row);
        }
    }
    Table::of(heads.map(Column::words).into(), rows).captioned("limits", say.limits_caption)
}

/// A limit as it was entered, and behind it as the figures have it where their unit is another.
fn entered(telling: &Telling<'_>, limit: &LimitHead) -> String {
    let own = telling.language.notation.digits(&format!("{} {}", number::entered(limit.value), limit.unit));
    match limit.in_figures.unit() == limit.unit {
        true => own,
        false => format!("{own} = {}", telling.limit(&limit.in_figures)),
    }
}

/// What else belongs to a limit: its averaging time, how often and how far apart, how it is lowered for long shifts.
fn terms(telling: &Telling<'_>, limit: &LimitHead) -> String {
    let say = telling.say();
    let minutes = |sentence: &str, minutes: f64| sentence.replace("{time}", &telling.minutes(minutes));
    let averaging = match limit.kind {
        LimitKind::Twa => Some(minutes(say.limit_averaging, telling.assessment.study.reference_minutes)),
        _ => limit.averaging_minutes.map(|time| minutes(say.limit_averaging, time)),
    };
    let at_most =
        limit.at_most.map(|n| telling.language.counted(n as usize, (say.limit_once, say.limit_at_most)));
    let apart = limit.at_least_apart_minutes.map(|time| minutes(say.limit_apart, time));
    let lowered = match limit.adjust {
        "daily" => Some(say.limit_lowered_daily),
        "weekly" => Some(say.limit_lowered_weekly),
        "lead-style" => Some(say.limit_lowered_lead),
        _ => None,
    };
    let all = [averaging, at_most, apart, lowered.map(str::to_owned)];
    all.into_iter().flatten().collect::<Vec<String>>().join("; ")
}

fn groups(telling: &Telling<'_>) -> Table {
    let (say, found) = (telling.say(), telling.assessment);
    let columns = vec![
        Column::words(say.col_group),
        Column::words(say.col_agent),
        Column::numbers(say.col_population),
        Column::words(say.col_workers),
        Column::numbers(say.col_shifts),
        Column::numbers(say.col_readings),
    ];
    let rows = found.study.groups.iter().map(|group| {
        let mut sampled: Vec<&str> = Vec::new();
        let mut shifts: Vec<&str> = Vec::new();
        for shift in found.shifts.iter().filter(|shift| shift.group == group.group) {
            if !sampled.contains(&shift.worker.as_str()) {
                sampled.push(&shift.worker);
            }
            if !shifts.contains(&shift.shift.as_str()) {
                shifts.push(&shift.shift);
            }
        }
        let readings = found
            .readings
            .iter()
            .flat_map(|reading| &reading.worker)
            .filter(|w| group.workers.contains(w))
            .count();
        vec![
            group.group.as_str().into(),
            group.agents.join(", ").into(),
            group.population.map_or_else(|| say.not_told.to_owned(), |n| n.to_string()).into(),
            sampled.join(", ").into(),
            shifts.len().to_string().into(),
            readings.to_string().into(),
        ]
    });
    Table::of(columns, rows.collect()).captioned("groups", say.groups_caption)
}
