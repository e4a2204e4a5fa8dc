//! The appendix: the shifts one by one, every reading, every working, the files, the sources.

use super::repeats::Repeats;
use super::sources;
use super::telling::Telling;
use crate::figures;
use crate::page::figure::{Form, with_unit_in};
use crate::page::{
    Block, Captioned, Column, Line, Link, Section, Stretch, Table, Text, Tone, WORKING, number,
};
use crate::trail::{Addresses, Entry, Thing, remarks, step_line};
use fullshift_engine::model::Step;
use fullshift_engine::model::assessment::ReadingResult;

/// A part of the appendix.
type Part = fn(&Telling<'_>) -> Option<Section>;

const PARTS: [Part; 5] = [one_by_one, readings, workings, record, works];

/// The parts that have something to say, lettered in order.
pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let parts = PARTS.iter().filter_map(|part| part(telling));
    let lettered = parts.zip('A'..).map(|(mut section, letter)| {
        let heading = std::mem::take(&mut section.heading);
        let gaps = [("letter", Text::from(letter.to_string())), ("heading", heading)];
        section.heading = telling.fill(telling.say().appendix, &gaps);
        section
    });
    lettered.collect()
}

fn one_by_one(telling: &Telling<'_>) -> Option<Section> {
    let mut section = Section::placed(0, "one-by-one", telling.say().one_by_one);
    for (at, pair) in telling.pairs().iter().enumerate() {
        let drawings = figures::timelines(&pair.shifts, &telling.assessment.readings, telling.language);
        for (number, drawing) in drawings.into_iter().enumerate() {
            let key = format!("timeline-{at}-{number}");
            section.blocks.push(Block::Drawing(Captioned::new(key, drawing.title.clone(), drawing)));
        }
    }
    (!section.blocks.is_empty()).then_some(section)
}

fn readings(telling: &Telling<'_>) -> Option<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "readings", say.readings_heading);
    section.say(say.readings_words);
    for agent in &telling.assessment.study.agents {
        let own: Vec<&ReadingResult> =
            telling.assessment.readings.iter().filter(|reading| reading.agent == agent.agent).collect();
        if own.is_empty() {
            continue;
        }
        let columns = vec![
            Column::words(say.col_reading),
            Column::words(say.col_worker_task),
            Column::words(say.col_start),
            Column::words(say.col_tube_lot_pump),
            Column::numbers(say.col_stain),
            Column::words(say.col_chain),
            Column::numbers(say.col_concentration.replace("{unit}", agent.unit)),
            Column::words(say.col_used),
        ];
        let rows = own.iter().map(|reading| reading_row(telling, reading)).collect();
        let caption = format!("{}: {}", say.readings_caption, agent.agent);
        let key = format!("readings-{}", agent.agent);
        section.blocks.push(Block::Table(Table::of(columns, rows).captioned(key, caption)));
    }
    section.blocks.extend(spoiled(telling));
    Some(section)
}

fn reading_row(telling: &Telling<'_>, reading: &ReadingResult) -> Vec<Text> {
    vec![
        way_back(&reading.id, &reading.id),
        reading.worker.iter().chain(&reading.task).cloned().collect::<Vec<_>>().join(", ").into(),
        telling.language.moment(&reading.start).into(),
        std::iter::once(&reading.tube)
            .chain(&reading.lot)
            .chain([&reading.pump])
            .cloned()
            .collect::<Vec<_>>()
            .join(", ")
            .into(),
        stain(telling, reading).into(),
        chain(telling, reading).into(),
        telling.concentration(reading).into(),
        used(telling, reading),
    ]
}

/// The stain in the unit of its tube's scale.
fn stain(telling: &Telling<'_>, reading: &ReadingResult) -> String {
    let sheet = telling.assessment.study.tubes.iter().find(|sheet| sheet.tube == reading.tube);
    let stain = telling.language.notation.digits(&reading.stain);
    sheet.map_or_else(|| stain.clone(), |sheet| format!("{stain} {}", sheet.unit))
}

/// Whether it takes part, and the codes of the findings that qualify it.
fn used(telling: &Telling<'_>, reading: &ReadingResult) -> Text {
    let say = telling.say();
    let rules = telling.assessment.field_quality.rules.iter();
    let codes: Vec<&str> =
        rules.filter(|rule| reading.qualified_by.contains(&rule.name)).map(|rule| rule.code).collect();
    match (reading.used, codes.is_empty()) {
        (false, _) => Text::of(Tone::Open, say.no),
        (true, true) => say.yes.into(),
        (true, false) => Text::from(format!("{}, ", say.yes)).and(Tone::Open, codes.join(", ")),
    }
}

/// Tubes that broke or could not be read; which group they were for is not known.
fn spoiled(telling: &Telling<'_>) -> Option<Block> {
    let (say, spoiled) = (telling.say(), &telling.assessment.field_quality.spoiled);
    if spoiled.is_empty() || telling.copy.group.is_some() {
        return None;
    }
    let heads = [say.col_reading, say.col_tube, say.col_lot, say.col_remark];
    let rows = spoiled.iter().map(|tube| {
        let told = |text: &Option<String>| Text::from(text.as_deref().unwrap_or(say.not_told));
        vec![tube.id.as_str().into(), tube.tube.as_str().into(), told(&tube.lot), told(&tube.note)]
    });
    let table = Table::of(heads.map(Column::words).into(), rows.collect());
    Some(Block::Table(table.captioned("spoiled", say.spoiled_caption)))
}

/// Digits of a factor; the workings have more, so that the way can be followed by hand.
const FACTOR_DIGITS: usize = 4;

/// The correction chain in a line: each step with its factor, or with what it gives where it has none.
fn chain(telling: &Telling<'_>, reading: &ReadingResult) -> String {
    let factor = telling.language.told("factor");
    let step = |step: &Step| match step.inputs.iter().find(|input| input.name == factor) {
        Some(factor) => format!("{} × {}", step.name, factor.value),
        None => format!("{}: {}", step.name, step.result),
    };
    let steps: Vec<String> = reading.trail.iter().skip(1).map(step).collect();
    let notation = &telling.language.notation;
    number::cut_in(&notation.digits(&steps.join("; ")), FACTOR_DIGITS, notation.decimal)
}

fn workings(telling: &Telling<'_>) -> Option<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "workings", say.workings_heading);
    section.say(say.workings_words);
    let addresses = Addresses::of(telling.assessment);
    let worked = addresses.iter().filter(|entry| matches!(entry.thing, Thing::Figure(_)));
    let worked = worked.filter(|entry| !entry.thing.trail().is_empty());
    let mut repeats = Repeats::told_in(telling.say());
    section.blocks.extend(worked.map(|entry| Block::Outline(working(telling, entry, &mut repeats))));
    (section.blocks.len() > 1).then_some(section)
}

fn working(telling: &Telling<'_>, entry: &Entry<'_>, repeats: &mut Repeats) -> Vec<Line> {
    let value = match entry.thing {
        Thing::Figure(figure) if figure.unit().is_empty() => {
            with_unit_in(figure, Form::Ratio, &telling.language.notation)
        }
        Thing::Figure(figure) => with_unit_in(figure, Form::Amount, &telling.language.notation),
        Thing::Reading(_) => String::new(),
    };
    let head = way_back(&entry.address, &entry.address).then(" = ").and(Tone::Strong, value);
    let mut lines = vec![Line::at(0, head)];
    lines.extend(remarks(entry.thing, telling.language).into_iter().map(|remark| Line::at(1, remark)));
    let steps = entry.thing.trail().iter();
    lines.extend(steps.map(|step| step_line(&repeats.shortened(step, &entry.address), 1, telling.language)));
    lines
}

/// The place of a working, with the way back to the number that led to it.
fn way_back(words: &str, address: &str) -> Text {
    Text::stretch(Stretch {
        tone: Tone::Strong,
        words: words.to_owned(),
        link: Some(Link::Place(String::new())),
        place: Some(format!("{WORKING}{address}")),
    })
}

fn record(telling: &Telling<'_>) -> Option<Section> {
    let (say, found) = (telling.say(), telling.assessment);
    let mut section = Section::placed(0, "record", say.record_heading);
    section.say(telling.fill(
        say.record_words,
        &[
            ("program", found.program.name.into()),
            ("version", found.program.version.into()),
            ("table", Text::caption("record")),
        ],
    ));
    let columns = vec![Column::words(say.col_file), Column::words(say.col_digest)];
    let row = |input: &fullshift_engine::model::assessment::InputFile| {
        vec![input.file.as_str().into(), Text::of(Tone::Typed, input.sha256.as_str())]
    };
    let table = Table::of(columns, found.inputs.iter().map(row).collect());
    section.blocks.push(Block::Table(table.captioned("record", say.record_caption)));
    Some(section)
}

fn works(telling: &Telling<'_>) -> Option<Section> {
    let say = telling.say();
    let works = sources::named_by(telling.assessment);
    let mut section = Section::placed(0, "sources", say.sources_heading);
    let columns = vec![Column::words(say.col_key), Column::words(say.col_work)];
    let rows: Vec<Vec<Text>> = works.iter().map(|(key, work)| vec![(*key).into(), (*work).into()]).collect();
    let any = !rows.is_empty();
    section.blocks.push(Block::Table(Table::of(columns, rows).captioned("sources", say.sources_caption)));
    any.then_some(section)
}
