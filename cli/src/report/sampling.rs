//! How it was sampled: readings, tubes, the rules for time without a reading, units, controls.

use super::own_words;
use super::telling::Telling;
use crate::page::{Block, Column, Section, Table, Text};
use std::collections::BTreeMap;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let (say, found) = (telling.say(), telling.assessment);
    let mut section = Section::placed(0, "sampling", say.sampling);
    let random = found.readings.iter().filter(|reading| reading.purpose == "random").count();
    section.say(telling.fill(
        say.sampling_words,
        &[
            ("readings", telling.counted(found.readings.len(), say.reading_one, say.reading_more)),
            ("random", random.to_string().into()),
            ("tubes", Text::caption("tubes")),
        ],
    ));
    section.blocks.push(Block::Table(tubes(telling)));
    let hours = telling.minutes(found.study.reference_minutes);
    section.say(telling.fill(say.twa_words, &[("hours", hours.into())]));
    section.blocks.extend(unsampled(telling).map(Block::Paragraph));
    let conversion = found.study.conversion.as_str().into();
    section.say(telling.fill(say.conversion_words, &[("conversion", conversion)]));
    let mut sections = vec![section];
    sections.extend(own_words::section("controls", say.controls, found.study.report.controls.as_deref()));
    sections
}

fn tubes(telling: &Telling<'_>) -> Table {
    let say = telling.say();
    let columns = vec![
        Column::words(say.col_tube),
        Column::words(say.col_agent),
        Column::words(say.col_range),
        Column::numbers(say.col_strokes),
        Column::words(say.col_rsd),
        Column::numbers(say.col_readings),
    ];
    let rows = telling.assessment.study.tubes.iter().map(|tube| {
        let mark = |mark: Option<f64>| mark.map_or_else(String::new, |mark| telling.number(mark));
        let range =
            say.from_to.replace("{low}", &mark(tube.first_mark)).replace("{high}", &mark(tube.last_mark));
        vec![
            tube.tube.as_str().into(),
            tube.agent.as_str().into(),
            format!("{range} {}", tube.unit).into(),
            telling.number(tube.strokes).into(),
            tube.relative_sd.map_or_else(|| say.rsd_default.to_owned(), |sd| telling.percent(sd)).into(),
            tube.readings.to_string().into(),
        ]
    });
    Table::of(columns, rows.collect()).captioned("tubes", say.tubes_caption)
}

/// What stands for the time without a reading, and how much of all shift time that is.
fn unsampled(telling: &Telling<'_>) -> Option<Text> {
    let say = telling.say();
    let mut minutes: BTreeMap<&str, f64> = BTreeMap::new();
    let mut all = 0.0;
    for shift in &telling.assessment.shifts {
        all += shift.minutes;
        for (rule, share) in &shift.unsampled {
            *minutes.entry(rule).or_insert(0.0) += share * shift.minutes;
        }
    }
    let sentences =
        [("zero", say.unsampled_zero), ("bounds", say.unsampled_bounds), ("borrow", say.unsampled_borrow)];
    let told: Vec<String> = sentences
        .iter()
        .filter_map(|(rule, sentence)| {
            let share = minutes.get(rule).filter(|minutes| **minutes > 0.0)? / all;
            let tasks = telling.language.list(&tasks_under(telling, rule));
            Some(sentence.replace("{tasks}", &tasks).replace("{share}", &telling.percent(share)))
        })
        .collect();
    (!told.is_empty()).then(|| telling.fill(say.unsampled_words, &[("rules", told.join("; ").into())]))
}

/// The tasks for which a rule for unsampled time stood in some shift.
fn tasks_under(telling: &Telling<'_>, rule: &str) -> Vec<String> {
    let tasks = telling.assessment.shifts.iter().flat_map(|shift| &shift.tasks);
    let mut named: Vec<String> = Vec::new();
    for task in tasks.filter(|task| task.unsampled == Some(rule)) {
        if !named.contains(&task.task) {
            named.push(task.task.clone());
        }
    }
    named
}
