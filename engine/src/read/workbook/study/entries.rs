//! A sheet of entries: one row an entry, one column a setting of it.

use super::columns::Columns;
use super::{NAME, Reading};
use crate::diagnose::{Span, code};
use crate::read::fields::{Field, Shape};
use crate::read::table::grid::Grid;
use crate::read::yaml::At;
use csv::StringRecord;
use serde_yaml::{Mapping, Value};

/// What a sheet of entries holds.
#[derive(Clone, Copy)]
pub enum Entries {
    /// Entries under names.
    Named(&'static [Field]),
    /// Entries in their order.
    Listed(&'static [Field]),
}

/// The entries of a setting that has a sheet of its own.
pub fn entries(field: &Field) -> Option<Entries> {
    match field.shape {
        Shape::Entries(Shape::Record(fields)) => Some(Entries::Named(fields)),
        Shape::List(Shape::Record(fields)) => Some(Entries::Listed(fields)),
        _ => None,
    }
}

/// Reads every row of the sheet of a setting; `None` with findings where one cannot be read.
pub fn read(grid: &Grid, setting: &Field, entries: Entries, reading: &mut Reading) -> Option<()> {
    let (fields, named) = match entries {
        Entries::Named(fields) => (fields, true),
        Entries::Listed(fields) => (fields, false),
    };
    let columns = Columns::of(grid, if named { &[NAME] } else { &[] }, reading.findings)?;
    let rows = &grid.rows[1..];
    if rows.is_empty() {
        return without_rows(grid, setting, reading);
    }
    reading.tree.begin(setting.name, Span::File(grid.file), named);
    let read = rows.iter().map(|(line, row)| {
        let at = match named {
            true => begun(*line, row, setting.name, &columns, reading)?,
            false => {
                reading.tree.push(setting.name, Span::Cell { file: grid.file, line: *line, field: None })
            }
        };
        let own = columns.names().filter(|column| !named || *column != NAME);
        let set = own.map(|column| set(*line, row, column, &at, (fields, &columns), reading));
        set.collect::<Vec<_>>().into_iter().collect()
    });
    read.collect::<Vec<_>>().into_iter().collect()
}

fn without_rows(grid: &Grid, setting: &Field, reading: &Reading) -> Option<()> {
    if !setting.needed {
        return Some(());
    }
    let message = format!("the sheet `{}` has a header but no rows", setting.name);
    let help = "fill in at least one row";
    reading.findings.report(&code::TABLE_WITHOUT_ROWS, Span::File(grid.file), message, help);
    None
}

/// Begins the entry that a row names.
fn begun(
    line: u32,
    row: &StringRecord,
    setting: &str,
    columns: &Columns,
    reading: &mut Reading,
) -> Option<At> {
    let span = columns.at(line, NAME);
    let Some(name) = columns.text(row, NAME) else {
        let message = format!("this row of `{setting}` has no name");
        reading.findings.report(
            &code::EMPTY_CELL,
            span,
            message,
            "give it the name by which the tables call it",
        );
        return None;
    };
    let inserted = reading.tree.insert(&[setting, name], span, span, Value::Mapping(Mapping::new()));
    inserted.map_err(|first| reading.report_twice(name, span, first)).ok()
}

/// Sets what a cell says of its entry.
fn set(
    line: u32,
    row: &StringRecord,
    column: &str,
    at: &At,
    (fields, columns): (&[Field], &Columns),
    reading: &mut Reading,
) -> Option<()> {
    let Some(text) = columns.text(row, column) else { return Some(()) };
    let field = fields.iter().find(|field| field.name == column);
    let span = columns.at(line, column);
    let value = reading.value(text, field.map_or(&Shape::Text, |field| &field.shape), span)?;
    // A heading that is not known is what the reader of the study points at.
    let key = if field.is_some() { span } else { columns.heading(column) };
    reading.tree.set(at, column, key, span, value);
    Some(())
}
