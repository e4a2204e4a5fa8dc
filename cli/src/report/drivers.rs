//! What drives the exposure: each task's time, level and share of the dose.

use super::telling::{Pair, Telling, group_address};
use crate::figures;
use crate::page::figure::Form;
use crate::page::{Block, Captioned, Column, Section, Table, Text};
use fullshift_engine::model::assessment::{DriversResult, GroupResult, TaskResult};

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
    section.blocks.extend(halved(telling, pair).map(Block::Paragraph));
    if let Some(drawing) = drawing {
        section.blocks.push(Block::Drawing(Captioned::new(figure_key, drawing.title.clone(), drawing)));
    }
}

/// A group's result that tells what drives its exposure.
fn driven<'a>(pair: &Pair<'a>) -> Option<(&'a GroupResult, &'a DriversResult)> {
    pair.groups.iter().find_map(|group| Some((*group, group.drivers.as_ref()?)))
}

/// A task's share of the dose of all shifts.
fn of_all(telling: &Telling<'_>, pair: &Pair<'_>, task: &str) -> Text {
    let own = driven(pair)
        .and_then(|(group, drivers)| Some((group, drivers.tasks.iter().find(|driver| driver.task == task)?)));
    let address = |group: &GroupResult| group_address(group, &format!("drivers/{task}"));
    own.map_or_else(Text::default, |(group, driver)| {
        telling.figure(&driver.share, Form::Share, address(group))
    })
}

/// What halving the largest task would do.
fn halved(telling: &Telling<'_>, pair: &Pair<'_>) -> Option<Text> {
    let (group, drivers) = driven(pair)?;
    drivers.p95_halved.value()?;
    let of = |name: &str| group_address(group, &format!("drivers/{name}"));
    let gaps = [
        ("task", drivers.largest.as_str().into()),
        ("p95", telling.with_unit(&drivers.p95_halved, Form::Amount, of("p95_halved"))),
        ("exceedance", telling.figure(&drivers.exceedance_halved, Form::Share, of("exceedance_halved"))),
    ];
    Some(telling.fill(telling.say().halved_words, &gaps))
}

fn table(telling: &Telling<'_>, pair: &Pair<'_>) -> Table {
    let say = telling.say();
    let columns = vec![
        Column::words(say.col_task),
        Column::numbers(say.col_shifts),
        Column::numbers(say.col_minutes),
        Column::numbers(say.col_mean.replace("{unit}", telling.unit(pair.agent))),
        Column::numbers(say.col_share),
        Column::numbers(say.col_share_all),
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
            of_all(telling, pair, name),
        ]
    });
    Table::of(columns, rows.collect())
}
