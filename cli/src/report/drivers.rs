//! What drives the exposure: each task's time, level and share of the dose.

use super::telling::{Pair, Telling};
use crate::figures;
use crate::page::{Block, Captioned, Column, Section, Table, Text};
use fullshift_engine::model::assessment::TaskResult;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "drivers", say.drivers);
    for (at, pair) in telling.pairs().iter().enumerate() {
        if pair.shifts.iter().any(|shift| shift.tasks.iter().any(|task| task.share_of_dose.value().is_some()))
        {
            told(telling, pair, at, &mut section);
        }
    }
    if section.blocks.is_empty() {
        section.say(say.no_task_figures);
    }
    vec![section]
}

fn told(telling: &Telling<'_>, pair: &Pair<'_>, at: usize, section: &mut Section) {
    let say = telling.say();
    let (table_key, figure_key) = (format!("drivers-{at}"), format!("dose-{at}"));
    let drawing = figures::dose(&pair.shifts, telling.language);
    let [group, agent] = pair.names();
    section.say(telling.fill(
        if drawing.is_some() { say.drivers_words } else { say.drivers_words_plain },
        &[("table", Text::caption(&table_key)), ("figure", Text::caption(&figure_key)), group, agent],
    ));
    let caption = telling.fill(say.drivers_caption, &pair.names());
    section.blocks.push(Block::Table(table(telling, pair).captioned(table_key, caption)));
    if let Some(drawing) = drawing {
        section.blocks.push(Block::Drawing(Captioned::new(figure_key, drawing.title.clone(), drawing)));
    }
}

fn table(telling: &Telling<'_>, pair: &Pair<'_>) -> Table {
    let say = telling.say();
    let columns = vec![
        Column::words(say.col_task),
        Column::numbers(say.col_shifts),
        Column::numbers(say.col_minutes),
        Column::numbers(say.col_mean.replace("{unit}", telling.unit(pair.agent))),
        Column::numbers(say.col_share),
    ];
    let mut tasks: Vec<&str> = Vec::new();
    for task in pair.shifts.iter().flat_map(|shift| &shift.tasks) {
        if !tasks.contains(&task.task.as_str()) {
            tasks.push(&task.task);
        }
    }
    let rows = tasks.into_iter().map(|name| {
        let own: Vec<&TaskResult> =
            pair.shifts.iter().flat_map(|shift| &shift.tasks).filter(|task| task.task == name).collect();
        let range = |of: fn(&TaskResult) -> Option<f64>, show: &dyn Fn(f64) -> String| {
            let values = || own.iter().filter_map(|task| of(task));
            match (values().reduce(f64::min), values().reduce(f64::max)) {
                (Some(low), Some(high)) if show(low) == show(high) => show(low),
                (Some(low), Some(high)) => {
                    say.from_to.replace("{low}", &show(low)).replace("{high}", &show(high))
                }
                _ => telling.language.notation.not_given.to_owned(),
            }
        };
        vec![
            name.into(),
            own.len().to_string().into(),
            range(|task| Some(task.minutes), &|n| telling.number(n)).into(),
            range(|task| task.mean.value(), &|x| telling.number(x)).into(),
            range(|task| task.share_of_dose.value(), &|x| telling.percent(x)).into(),
        ]
    });
    Table::of(columns, rows.collect())
}
