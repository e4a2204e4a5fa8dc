//! The working of a figure as a page.

use super::addresses::{Addresses, Thing};
use super::walk::Stop;
use crate::language::{Language, filled, of};
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Line, Link, Page, Section, Stretch, Table, Text, Tone, number};
use fullshift_engine::model::assessment::ReadingResult;
use fullshift_engine::model::{Figure, Input, ReportLanguage, Step};

/// Every address with its value.
pub(crate) fn list(addresses: &Addresses<'_>) -> Page {
    let columns = vec![Column::words("figure"), Column::words("value")];
    let rows = addresses.iter().map(|e| vec![e.address.as_str().into(), value(e.thing).into()]).collect();
    let mut section = Section::default();
    section.blocks.push(Block::Table(Table::of(columns, rows)));
    Page { sections: vec![section] }
}

/// The way down from a figure.
pub(crate) fn working(stops: &[Stop<'_>]) -> Page {
    let mut section = Section::default();
    section.blocks.push(Block::Outline(stops.iter().flat_map(lines).collect()));
    Page { sections: vec![section] }
}

fn lines(stop: &Stop<'_>) -> Vec<Line> {
    let depth = 2 * stop.depth;
    let head = Text::of(Tone::Strong, stop.entry.address.as_str())
        .then(" = ")
        .and(Tone::Strong, value(stop.entry.thing));
    let mut lines = vec![Line::at(depth, head)];
    let remarks = remarks(stop.entry.thing, english()).into_iter();
    lines.extend(remarks.map(|remark| Line::at(depth + 1, remark)));
    for step in stop.entry.thing.trail() {
        match stop.entry.thing {
            Thing::Figure(_) => step_lines(step, depth + 1, &mut lines),
            Thing::Reading(_) => lines.push(step_line(step, depth + 1, english())),
        }
    }
    lines
}

/// The language of the terminal.
fn english() -> &'static Language {
    of(ReportLanguage::English)
}

/// A step with a line for each input: its name and formula, its inputs with their origin, its result and source.
pub(crate) fn step_lines(step: &Step, depth: usize, lines: &mut Vec<Line>) {
    lines.push(Line::at(depth, head(step)));
    lines.extend(step.inputs.iter().map(|given| Line::at(depth + 1, input(given))));
    lines.extend(result(step, english()).map(|text| Line::at(depth + 1, text)));
}

/// The same on one line, for the steps of a correction chain.
pub(crate) fn step_line(step: &Step, depth: usize, language: &Language) -> Line {
    let parts = step.inputs.iter().map(input).chain(result(step, language));
    Line::at(depth, parts.fold(head(step), |text, part| text.then("; ").append(part)))
}

fn head(step: &Step) -> Text {
    Text::of(Tone::Strong, step.name.as_str()).then(format!(": {}", step.formula))
}

fn input(input: &Input) -> Text {
    let from = if input.from == input.name { "" } else { &input.from };
    origin(Text::from(format!("{} = {}", input.name, input.value)), from)
}

/// What came out and where the formula comes from; a figure whose result stands above its working has the source only.
fn result(step: &Step, language: &Language) -> Option<Text> {
    match (step.result.as_str(), language.told(step.source).as_str()) {
        ("", "") => None,
        ("", source) => Some(Text::of(Tone::Quiet, format!("[{source}]"))),
        (result, source) => Some(origin(Text::from(language.say.gives.replace("{result}", result)), source)),
    }
}

fn origin(text: Text, from: &str) -> Text {
    match from {
        "" => text,
        from => text.append(Text::stretch(Stretch {
            tone: Tone::Quiet,
            words: format!(" [{from}]"),
            link: Some(Link::Working(from.to_owned())),
            place: None,
        })),
    }
}

fn value(thing: Thing<'_>) -> String {
    match thing {
        // A chance or share near 1 must not look like 1.
        Thing::Figure(figure) if figure.unit().is_empty() => figure::bare(figure, Form::Ratio),
        Thing::Figure(figure) => figure::with_unit(figure, Form::Amount),
        Thing::Reading(reading) => concentration(reading),
    }
}

/// A reading's concentration: a point, a range, or what is known of it.
fn concentration(reading: &ReadingResult) -> String {
    let unit = reading.unit;
    match reading.high {
        Some(high) if high == reading.low => format!("{} {unit}", number::number(high)),
        Some(high) => format!("{} {unit}", number::range(reading.low, high)),
        None => format!("at least {} {unit}", number::number(reading.low)),
    }
}

/// What is to be said beside the steps: why there is no value, how it was found, which tube it was.
pub(crate) fn remarks(thing: Thing<'_>, language: &Language) -> Vec<String> {
    let said = match thing {
        Thing::Figure(Figure::Given(e)) => vec![e.method.clone(), e.no_interval.clone().unwrap_or_default()],
        Thing::Figure(other) => vec![other.reason().unwrap_or_default().to_owned()],
        Thing::Reading(reading) => {
            vec![drawn(reading, language), left_out(reading, language), qualified(reading, language)]
        }
    };
    said.into_iter().filter(|remark| !remark.is_empty()).collect()
}

fn drawn(reading: &ReadingResult, language: &Language) -> String {
    let ReadingResult { place, worker, task, start, tube, stain, purpose, .. } = reading;
    let gaps = [
        ("place", place.as_str().into()),
        ("worker", worker.as_deref().unwrap_or(language.say.no_person).into()),
        ("task", task.as_deref().unwrap_or(language.say.no_task).into()),
        ("start", language.moment(start).into()),
        ("tube", tube.as_str().into()),
        ("stain", stain.as_str().into()),
        ("purpose", language.told(purpose).into()),
    ];
    filled(language.say.drawn, &gaps).words()
}

fn qualified(reading: &ReadingResult, language: &Language) -> String {
    let rules: Vec<String> = reading.qualified_by.iter().map(|rule| language.told(rule)).collect();
    match rules.is_empty() {
        true => String::new(),
        false => language.say.qualified_by.replace("{rules}", &rules.join(", ")),
    }
}

fn left_out(reading: &ReadingResult, language: &Language) -> String {
    match (&reading.why_not, reading.used) {
        (Some(reason), _) => language.say.not_used_because.replace("{reason}", reason),
        (None, false) => language.say.not_used.to_owned(),
        (None, true) => String::new(),
    }
}
