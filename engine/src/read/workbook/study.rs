//! A workbook that is a whole study: its sheets as the same tree of values that `study.yaml` gives, each with its cell.

use super::Book;
use super::notation::parse;
use crate::diagnose::{FileId, Findings, Span, code, nearest};
use crate::read::Sources;
use crate::read::fields::settings::{STUDY, TABLES};
use crate::read::fields::{Field, Shape};
use crate::read::table::comparable;
use crate::read::table::grid::Grid;
use crate::read::yaml::{Document, Tree};
use serde_yaml::{Mapping, Value};
use std::collections::HashMap;

/// The sheet with the settings that are no lists of entries.
pub const SETTINGS: &str = "study";
/// Its columns.
pub const SETTING: &str = "setting";
/// The column of a setting's value.
pub const VALUE: &str = "value";
/// The column that names an entry.
pub const NAME: &str = "name";

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

/// Reads the sheets of a study; `None` with findings where one that is needed is missing or cannot be read.
pub fn document(file: FileId, sources: &mut Sources, findings: &Findings) -> Option<Document> {
    let mut book = Book::open(file, Span::File(file), sources, findings)?;
    let mut reading = Reading { tree: Tree::default(), findings, whole: true };
    for (name, field) in std::iter::once((SETTINGS, None)).chain(STUDY.iter().map(|f| (f.name, Some(f)))) {
        let entries = field.and_then(entries);
        if field.is_some() && entries.is_none() {
            continue;
        }
        let Some(sheet) = book.sheet(name) else {
            if field.is_none_or(|f| f.needed) {
                reading.report_missing(&book, name);
            }
            continue;
        };
        match (book.grid(&sheet, sources, findings), entries) {
            (Some(grid), Some(entries)) => {
                reading.entries(&grid, name, entries, field.is_some_and(|f| f.needed))
            }
            (Some(grid), None) => reading.settings(&grid),
            (None, _) => reading.whole = false,
        }
    }
    reading.own_tables(&book);
    let Reading { tree, whole, .. } = reading;
    whole.then(|| tree.document(file))
}

struct Reading<'a> {
    tree: Tree,
    findings: &'a Findings,
    whole: bool,
}

/// A sheet whose columns have been found.
struct Columns {
    file: FileId,
    fields: HashMap<String, u16>,
}

impl Columns {
    fn span(&self, line: u32, column: &str) -> Span {
        Span::Cell { file: self.file, line, field: self.fields.get(column).copied() }
    }
}

impl Reading<'_> {
    fn report_missing(&mut self, book: &Book, name: &str) {
        let sheets = book.sheets();
        let near = nearest(name, sheets.iter().map(String::as_str));
        let help = match near.starts_with("did you mean") {
            true => near,
            false => "a workbook that is a whole study has a sheet for each part: lay one down with `fullshift start FILE.xlsx`; a workbook of tables is named under `tables` in study.yaml".to_owned(),
        };
        let message = format!("{} has no sheet `{name}`", book.name);
        self.findings.report(&code::SHEET_MISSING, Span::File(book.file), message, help);
        self.whole = false;
    }

    /// Finds the columns and reports what of the sheet cannot be read.
    fn columns(&mut self, grid: &Grid, needed: &[&str]) -> Option<Columns> {
        for fault in &grid.faults {
            fault.report(grid.file, self.findings);
            self.whole &= !fault.is_error();
        }
        let Some((line, header)) = grid.rows.first() else {
            let help = format!("begin it with a header line: {}", needed.join(","));
            self.findings.report(
                &code::TABLE_EMPTY,
                Span::File(grid.file),
                format!("{} is empty", grid.name),
                help,
            );
            self.whole = false;
            return None;
        };
        let headings = header.iter().enumerate().map(|(field, text)| (comparable(text), field as u16));
        let fields: HashMap<String, u16> = headings.filter(|(name, _)| !name.is_empty()).collect();
        let missing: Vec<&str> = needed.iter().copied().filter(|name| !fields.contains_key(*name)).collect();
        for name in &missing {
            let span = Span::Cell { file: grid.file, line: *line, field: None };
            let help = nearest(name, fields.keys().map(String::as_str));
            self.findings.report(
                &code::MISSING_COLUMN,
                span,
                format!("{} has no column `{name}`", grid.name),
                help,
            );
        }
        self.whole &= missing.is_empty();
        missing.is_empty().then_some(Columns { file: grid.file, fields })
    }

    /// `setting`, `value`.
    fn settings(&mut self, grid: &Grid) {
        let Some(columns) = self.columns(grid, &[SETTING, VALUE]) else { return };
        let cell = |row: &csv::StringRecord, name: &str| {
            columns
                .fields
                .get(name)
                .and_then(|field| row.get(usize::from(*field)))
                .unwrap_or("")
                .trim()
                .to_owned()
        };
        for (line, row) in &grid.rows[1..] {
            let (setting, text) = (cell(row, SETTING), cell(row, VALUE));
            if text.is_empty() {
                continue;
            }
            let (key, value) = (columns.span(*line, SETTING), columns.span(*line, VALUE));
            let (top, sub) = match setting.split_once('.') {
                Some((top, sub)) => (top, Some(sub)),
                None => (setting.as_str(), None),
            };
            let Some(read) = self.value(&text, shape_of_setting(top, sub), value) else { continue };
            let path: Vec<&str> = std::iter::once(top).chain(sub).collect();
            if let Err(first) = self.tree.insert(&path, key, value, read) {
                let message = format!("`{setting}` stands twice in the same place");
                self.findings.report_at(
                    &code::DUPLICATE_KEY,
                    vec![key, first],
                    message,
                    "keep one of the two",
                );
                self.whole = false;
            }
        }
    }

    /// One row an entry.
    fn entries(&mut self, grid: &Grid, name: &str, entries: Entries, needed: bool) {
        let (fields, named) = match entries {
            Entries::Named(fields) => (fields, true),
            Entries::Listed(fields) => (fields, false),
        };
        let Some(columns) = self.columns(grid, if named { &[NAME] } else { &[] }) else { return };
        if grid.rows.len() == 1 {
            if needed {
                let message = format!("the sheet `{name}` has a header but no rows");
                self.findings.report(
                    &code::TABLE_WITHOUT_ROWS,
                    Span::File(grid.file),
                    message,
                    "fill in at least one row",
                );
                self.whole = false;
            }
            return;
        }
        self.tree.begin(name, Span::File(grid.file), named);
        for (line, row) in &grid.rows[1..] {
            let whole_row = Span::Cell { file: grid.file, line: *line, field: None };
            let text = |column: &str| {
                let field = columns.fields.get(column)?;
                row.get(usize::from(*field)).map(str::trim).filter(|text| !text.is_empty())
            };
            let at = match (named, text(NAME)) {
                (false, _) => self.tree.push(name, whole_row),
                (true, Some(entry)) => {
                    let span = columns.span(*line, NAME);
                    match self.tree.insert(&[name, entry], span, span, Value::Mapping(Mapping::new())) {
                        Ok(path) => path,
                        Err(first) => {
                            let message = format!("`{entry}` stands twice in the same place");
                            let help = "keep one of the two, or give the second its own name";
                            self.findings.report_at(&code::DUPLICATE_KEY, vec![span, first], message, help);
                            self.whole = false;
                            continue;
                        }
                    }
                }
                (true, None) => {
                    let message = format!("this row of `{name}` has no name");
                    self.findings.report(
                        &code::EMPTY_CELL,
                        columns.span(*line, NAME),
                        message,
                        "give it the name by which the tables call it",
                    );
                    self.whole = false;
                    continue;
                }
            };
            let header = grid.rows[0].0;
            let mut filled: Vec<(&String, &u16)> =
                columns.fields.iter().filter(|(column, _)| *column != NAME || !named).collect();
            filled.sort_by_key(|(_, field)| **field);
            for (column, _) in filled {
                let Some(text) = text(column) else { continue };
                let (key, value) = (columns.span(header, column), columns.span(*line, column));
                let field = fields.iter().find(|field| field.name == column);
                // A heading that is not known is no setting, whatever stands below it; the reader says so.
                let shape = field.map_or(&Shape::Text, |field| &field.shape);
                if let Some(read) = self.value(text, shape, value) {
                    let key = if field.is_some() { value } else { key };
                    self.tree.set(&at, column, key, value, read);
                }
            }
        }
    }

    fn value(&mut self, text: &str, shape: &Shape, span: Span) -> Option<Value> {
        match parse(text, shape) {
            Ok(value) => Some(value),
            Err(message) => {
                let help = "see the handbook, page workbooks, for what several values in a cell look like";
                self.findings.report(&code::BAD_CELL, span, message, help);
                self.whole = false;
                None
            }
        }
    }

    /// The tables that the settings do not name lie in the workbook itself.
    fn own_tables(&mut self, book: &Book) {
        let span = Span::File(book.file);
        for table in TABLES.iter().filter(|table| matches!(table.shape, Shape::Text)) {
            let sheet = book.sheet(table.name);
            if sheet.is_some() || table.needed {
                let name = format!("{}#{}", book.name, sheet.as_deref().unwrap_or(table.name));
                // A table that the settings name is taken from there.
                drop(self.tree.insert(&["tables", table.name], span, span, Value::String(name)));
            }
        }
    }
}

/// The form of a setting; of one that is not known, a text: the reader will say so.
fn shape_of_setting(top: &str, sub: Option<&str>) -> &'static Shape {
    let top = STUDY.iter().find(|field| field.name == top);
    match (top.map(|field| &field.shape), sub) {
        (Some(Shape::Record(fields)), Some(sub)) => {
            fields.iter().find(|field| field.name == sub).map_or(&Shape::Text, |field| &field.shape)
        }
        (Some(shape), None) => shape,
        _ => &Shape::Text,
    }
}
