//! The readings, one row per tube.

use super::present;
use crate::diagnose::nearest;
use crate::diagnose::{Findings, code};
use crate::model::reading::Circumstances;
use crate::model::{
    Celsius, Column, KiloPascal, Minutes, Named, Purpose, Reading, Ref, SpoiledTube, Stain, Study, Tube,
};
use crate::read::quantity::{HUMIDITY, PRESSURE, TEMPERATURE, TIME, concentration_unit};
use crate::read::stain::{Complaint, stain};
use crate::read::table::{Row, Table};
use std::collections::HashMap;

/// What stands in the place of a stain where the tube broke or could not be read.
const SPOILED: &str = "spoiled";

/// Reads every reading; names that stand twice become findings.
pub fn read(table: &Table, study: &mut Study, findings: &Findings) {
    let mut first = HashMap::new();
    let (mut readings, mut spoiled) = (Vec::new(), Vec::new());
    for row in table.rows(findings) {
        let id = row.need(Column::Id, "R1");
        if let Some(before) = id.and_then(|id| first.insert(id, row.at(Column::Id))) {
            findings.report_at(
                &code::DUPLICATE_ID,
                vec![row.at(Column::Id), before],
                format!("reading `{}` stands twice", id.unwrap_or_default()),
                "give one of them another id; if it is the same tube, take one row away",
            );
        }
        match drawn(&row, id, study) {
            Some(Drawn::Reading(reading)) => readings.push(reading),
            Some(Drawn::Spoiled(tube)) => spoiled.push(tube),
            None => {}
        }
    }
    study.readings = readings;
    study.spoiled = spoiled;
}

/// What a row tells of a tube.
pub enum Drawn {
    /// It was read.
    Reading(Reading),
    /// It broke or could not be read.
    Spoiled(SpoiledTube),
}

/// The tube of a row of which the name has been read; `None` with findings where the row cannot be read.
pub fn drawn(row: &Row, id: Option<&str>, study: &Study) -> Option<Drawn> {
    match row.text(Column::Reading).is_some_and(|text| text.eq_ignore_ascii_case(SPOILED)) {
        true => spoiled_tube(row, id, study).map(Drawn::Spoiled),
        false => reading(row, id, study).map(Drawn::Reading),
    }
}

fn spoiled_tube(row: &Row, id: Option<&str>, study: &Study) -> Option<SpoiledTube> {
    let owned = |column: Column| row.text(column).map(str::to_owned);
    let tube = row.named(Column::Tube, &study.tubes);
    Some(SpoiledTube {
        id: id?.to_owned(),
        tube: tube?,
        lot: owned(Column::Lot),
        note: owned(Column::Note),
        span: row.span(),
    })
}

/// One reading. Strokes and stain that cannot be read are errors, so that no figure comes of the row; it goes on with
/// those of its tube all the same, so that the checks see when and by whom it was drawn.
fn reading(row: &Row, id: Option<&str>, study: &Study) -> Option<Reading> {
    let purpose = purpose(row);
    let worker = whose(row, Column::Worker, purpose, &study.workers);
    let task = whose(row, Column::Task, purpose, &study.tasks);
    let tube = row.named(Column::Tube, &study.tubes);
    let pump = row.named(Column::Pump, &study.pumps);
    let start = row.moment(Column::Start, &study.clock);
    let strokes = row.need(Column::Strokes, "1").and_then(|text| row.number(Column::Strokes, text));
    let strokes = strokes.filter(|&s| above_zero(row, Column::Strokes, s));
    let stain = read_stain(row, tube.map(|t| &study.tubes[t]));
    unit(row, tube, study);
    let told = circumstances(row);
    Some(Reading {
        purpose,
        told,
        id: id?.into(),
        worker: worker?,
        task: task?,
        tube: tube?,
        pump: pump?,
        start: start?,
        strokes: strokes.unwrap_or(study.tubes[tube?].strokes),
        stain: stain.unwrap_or(Stain::Below(study.tubes[tube?].marks[0])),
        span: row.span(),
        cells: row.cells(),
    })
}

/// Who or what a reading belongs to: needed where it speaks for a person, else an empty cell says nobody.
fn whose<T>(row: &Row, column: Column, purpose: Purpose, list: &Named<T>) -> Option<Option<Ref<T>>> {
    match (row.text(column), purpose.needs_person()) {
        (Some(_), _) => row.named(column, list).map(Some),
        (None, false) => Some(None),
        (None, true) => {
            let help = format!(
                "write it as in the field notes; only a reading of purpose area, blank or duplicate may have no `{column}`"
            );
            row.wrong(&code::EMPTY_CELL, column, format!("`{column}` is empty"), help);
            None
        }
    }
}

/// The columns of the circumstances.
const CIRCUMSTANCES: [Column; 10] = [
    Column::Lot,
    Column::Temperature,
    Column::Humidity,
    Column::Pressure,
    Column::PreTube,
    Column::Colour,
    Column::ReadAfter,
    Column::Place,
    Column::Present,
    Column::Note,
];

/// What else a row tells; `None` where it tells nothing.
fn circumstances(row: &Row) -> Option<Box<Circumstances>> {
    if CIRCUMSTANCES.iter().all(|&column| row.text(column).is_none()) {
        return None;
    }
    let temperature = row.quantity(Column::Temperature, &TEMPERATURE).filter(|&c| bearable(row, c));
    let humidity = row.quantity(Column::Humidity, &HUMIDITY);
    let humidity = humidity.filter(|h| (0.0..=100.0).contains(h) || impossible(row, Column::Humidity));
    let pressure = row.quantity(Column::Pressure, &PRESSURE).filter(|&kpa| breathable(row, kpa));
    let read_after =
        row.quantity(Column::ReadAfter, &TIME).filter(|&m| m >= 0.0 || impossible(row, Column::ReadAfter));
    let owned = |column: Column| row.text(column).map(str::to_owned);
    Some(Box::new(Circumstances {
        lot: owned(Column::Lot),
        temperature: temperature.map(Celsius),
        humidity,
        pressure: pressure.map(KiloPascal),
        pre_tube: owned(Column::PreTube),
        colour: owned(Column::Colour),
        read_after: read_after.map(Minutes),
        place: owned(Column::Place),
        present: substances(row),
        note: owned(Column::Note),
    }))
}

fn above_zero(row: &Row, column: Column, value: f64) -> bool {
    value > 0.0 || impossible(row, column)
}

/// Whether people work at an air pressure: from that at 5,500 m to that of a deep mine (common practice, no source).
fn breathable(row: &Row, kpa: f64) -> bool {
    let fits = (50.0..=115.0).contains(&kpa);
    if !fits {
        let message =
            format!("{} cannot be the air pressure at a workplace", row.text(Column::Pressure).unwrap_or(""));
        let help = "check the number and its unit: sea level is near 101 kPa, 1013 hPa, 760 mmHg";
        row.wrong(&code::IMPOSSIBLE_VALUE, Column::Pressure, message, help);
    }
    fits
}

/// Whether people work at an air temperature, arctic store or furnace hall (common practice, no source).
fn bearable(row: &Row, celsius: f64) -> bool {
    let fits = (-40.0..=60.0).contains(&celsius);
    if !fits {
        let told = row.text(Column::Temperature).unwrap_or("");
        let message = format!("{told} cannot be the air temperature at a workplace");
        let help = "check the number and its unit: 20 C is 68 F or 293 K";
        row.wrong(&code::IMPOSSIBLE_VALUE, Column::Temperature, message, help);
    }
    fits
}

/// Reports an impossible value; always false.
fn impossible(row: &Row, column: Column) -> bool {
    let message = format!("`{column}` cannot be {}", row.text(column).unwrap_or(""));
    row.wrong(&code::IMPOSSIBLE_VALUE, column, message, "check the number");
    false
}

/// The stain, on the scale of its tube.
fn read_stain(row: &Row, tube: Option<&Tube>) -> Option<Stain> {
    let text = row.need(Column::Reading, "12, 10..15, <5, >100 or 8/14")?;
    match stain(text, row.comma()) {
        Ok(stain) => tube.is_none_or(|t| on_scale(row, stain, t)).then_some(stain),
        Err(Complaint::Form(message)) => {
            let help = "write it as 12, 10..15, <5, >100 or 8/14; no stain is less than the first mark, as <5; a tube that broke is `spoiled`";
            row.wrong(&code::BAD_CELL, Column::Reading, message, help);
            None
        }
        Err(Complaint::Comma(number)) => {
            row.ambiguous(Column::Reading, &number);
            None
        }
    }
}

/// Whether a stain can be read on the tube's scale; a finding where it cannot.
fn on_scale(row: &Row, stain: Stain, tube: &Tube) -> bool {
    let (first, last) = (tube.marks[0], tube.marks[tube.marks.len() - 1]);
    let inside = |x: f64| (first..=last).contains(&x);
    let fits = match stain {
        Stain::At(x) => inside(x),
        Stain::Between(low, high) => inside(low) && inside(high),
        Stain::Slanted(short, long) => short <= last && inside(long),
        Stain::Below(x) => x == first,
        Stain::Past(x) => x == last,
    };
    if !fits {
        off_scale(row, stain, tube, (first, last));
    }
    fits
}

/// Says what is wrong with a stain that cannot be read on the scale from `first` to `last`.
fn off_scale(row: &Row, stain: Stain, tube: &Tube, (first, last): (f64, f64)) {
    let inside = |x: f64| (first..=last).contains(&x);
    let text = row.text(Column::Reading).unwrap_or("");
    let off = format!("`{text}` lies off the scale of {first} to {last} {}", tube.unit);
    let (message, help) = match stain {
        Stain::At(_) | Stain::Between(..) => {
            (off, format!("write <{first} for less than the first mark, >{last} for past the last"))
        }
        Stain::Slanted(..) => (off, format!("past the last mark, write >{last}")),
        Stain::Below(x) => (
            format!("`{text}` is told of a stain before the first mark, which is {first}"),
            match inside(x) {
                true => format!(
                    "write <{first} where the stain ended before the first mark, {first}..{x} where it ended between two"
                ),
                false => format!("write <{first} where the stain ended before the first mark"),
            },
        ),
        Stain::Past(x) => (
            format!("`{text}` is told of a stain past the last mark, which is {last}"),
            match inside(x) {
                true => format!(
                    "write >{last} where the stain went past the last mark, {x}..{last} where it ended between two"
                ),
                false => format!("write >{last} where the stain went past the last mark"),
            },
        ),
    };
    row.wrong(&code::READING_OFF_SCALE, Column::Reading, message, help);
}

/// The `unit` column, or the heading `reading [ppm]`, repeats the unit of the scale; another one is a slip.
fn unit(row: &Row, tube: Option<Ref<Tube>>, study: &Study) {
    let Some(tube) = tube else { return };
    let scale = study.tubes[tube].unit;
    let wrong = |text, else_write: String| match concentration_unit(text) {
        Ok(unit) if unit == scale => None,
        Ok(unit) => Some((
            format!("the scale of {} is in {scale}, not {unit}", study.tubes.name(tube)),
            "read the stain in the unit of its scale".to_owned(),
        )),
        Err(message) => Some((message, else_write)),
    };
    let cell =
        row.text(Column::Unit).and_then(|text| wrong(text, format!("write {scale}, or leave it empty")));
    if let Some((message, help)) = cell {
        row.wrong(&code::BAD_QUANTITY, Column::Unit, message, help);
    }
    let plain = "head the column `reading`: the stain is read in the unit of its scale".to_owned();
    let heading = row.heading_unit(Column::Reading).and_then(|text| wrong(text, plain));
    if let Some((message, help)) = heading {
        row.wrong_heading(&code::BAD_QUANTITY, Column::Reading, message, help);
    }
}

fn purpose(row: &Row) -> Purpose {
    let Some(text) = row.text(Column::Purpose) else { return Purpose::default() };
    let found = Purpose::WORDS.iter().find(|(word, _)| *word == text).map(|(_, purpose)| *purpose);
    if found.is_none() {
        let help = nearest(text, Purpose::WORDS.iter().map(|(word, _)| *word));
        row.wrong(&code::BAD_CHOICE, Column::Purpose, format!("`{text}` is not a purpose"), help);
    }
    found.unwrap_or_default()
}

fn substances(row: &Row) -> Vec<present::Present> {
    let Some(text) = row.text(Column::Present) else { return Vec::new() };
    present::several(text).unwrap_or_else(|wrong| {
        let help = "write it as amines or amines=3 ppm, several joined by +";
        row.no_quantity(Column::Present, wrong, help);
        Vec::new()
    })
}
