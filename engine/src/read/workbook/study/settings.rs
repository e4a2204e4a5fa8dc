//! The sheet of settings: one row a setting, called as `study.title`.

use super::columns::Columns;
use super::{Reading, SETTING, VALUE};
use crate::read::fields::Shape;
use crate::read::fields::settings::STUDY;
use crate::read::table::grid::Grid;
use csv::StringRecord;

/// Reads every row; `None` with findings where one cannot be read.
pub fn read(grid: &Grid, reading: &mut Reading) -> Option<()> {
    let columns = Columns::of(grid, &[SETTING, VALUE], reading.findings)?;
    let read = grid.rows[1..].iter().map(|(line, row)| setting(*line, row, &columns, reading));
    // Every row is read before it is known whether one could not be.
    read.collect::<Vec<_>>().into_iter().collect()
}

fn setting(line: u32, row: &StringRecord, columns: &Columns, reading: &mut Reading) -> Option<()> {
    let (Some(name), Some(text)) = (columns.text(row, SETTING), columns.text(row, VALUE)) else {
        return Some(());
    };
    let (top, sub) = name.split_once('.').map_or((name, None), |(top, sub)| (top, Some(sub)));
    let (key, span) = (columns.at(line, SETTING), columns.at(line, VALUE));
    let value = reading.value(text, shape(top, sub), span)?;
    let path: Vec<&str> = std::iter::once(top).chain(sub).collect();
    let inserted = reading.tree.insert(&path, key, span, value);
    inserted.map_err(|first| reading.report_twice(name, key, first)).ok().map(drop)
}

/// The form of a setting; of one that is not known, a text: the reader of the study says so.
fn shape(top: &str, sub: Option<&str>) -> &'static Shape {
    let top = STUDY.iter().find(|field| field.name == top);
    match (top.map(|field| &field.shape), sub) {
        (Some(Shape::Record(fields)), Some(sub)) => {
            fields.iter().find(|field| field.name == sub).map_or(&Shape::Text, |field| &field.shape)
        }
        (Some(shape), None) => shape,
        _ => &Shape::Text,
    }
}
