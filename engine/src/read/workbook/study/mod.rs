//! A workbook that is a whole study: its sheets as the same tree of values that `study.yaml` gives, each with its cell.

mod columns;
mod entries;
mod settings;

pub use entries::{Entries, entries};

use super::Book;
use super::notation::parse;
use crate::diagnose::{FileId, Findings, Span, code, nearest};
use crate::read::Sources;
use crate::read::fields::Shape;
use crate::read::fields::settings::{STUDY, TABLES};
use crate::read::yaml::{Document, Tree};
use serde_yaml::Value;

/// The sheet with the settings that are no entries of a list.
pub const SETTINGS: &str = "study";
/// Its column of names.
pub const SETTING: &str = "setting";
/// Its column of values.
pub const VALUE: &str = "value";
/// The column that names an entry.
pub const NAME: &str = "name";

/// The tree so far, and where what is wrong goes.
pub struct Reading<'a> {
    tree: Tree,
    findings: &'a Findings,
}

/// Reads the sheets of a study; `None` with findings where one that is needed is missing or cannot be read.
pub fn document(file: FileId, sources: &mut Sources, findings: &Findings) -> Option<Document> {
    let mut book = Book::open(file, Span::File(file), sources, findings)?;
    let mut reading = Reading { tree: Tree::default(), findings };
    let mut whole = report_missing(&book, findings);
    if let Some(sheet) = book.sheet(SETTINGS) {
        let grid = book.grid(&sheet, sources, findings);
        whole &= grid.and_then(|grid| settings::read(&grid, &mut reading)).is_some();
    }
    for (setting, kind) in STUDY.iter().filter_map(|field| Some((field, entries(field)?))) {
        if let Some(sheet) = book.sheet(setting.name) {
            let grid = book.grid(&sheet, sources, findings);
            whole &= grid.and_then(|grid| entries::read(&grid, setting, kind, &mut reading)).is_some();
        }
    }
    reading.own_tables(&book);
    whole.then(|| reading.tree.document(file))
}

/// Whether every sheet that a study needs is there; one finding for each that a misspelt one was probably meant for,
/// one for all others.
fn report_missing(book: &Book, findings: &Findings) -> bool {
    let needed =
        STUDY.iter().filter(|field| field.needed && entries(field).is_some()).map(|field| field.name);
    let missing: Vec<&str> =
        std::iter::once(SETTINGS).chain(needed).filter(|name| book.sheet(name).is_none()).collect();
    let sheets = book.sheets();
    let mut others = Vec::new();
    for name in &missing {
        let near = nearest(name, sheets.iter().map(String::as_str));
        match near.starts_with("did you mean") {
            true => {
                let message = format!("{} has no sheet `{name}`", book.name);
                findings.report(&code::SHEET_MISSING, Span::File(book.file), message, near);
            }
            false => others.push(format!("`{name}`")),
        }
    }
    if !others.is_empty() {
        let sheets = if others.len() == 1 { "sheet" } else { "sheets" };
        let message = format!("{} has no {sheets} {}", book.name, others.join(", "));
        let help = "a workbook that is a whole study has a sheet for each part: lay one down with `fullshift start FILE.xlsx`; a workbook of tables alone is named under `tables` in study.yaml";
        findings.report(&code::SHEET_MISSING, Span::File(book.file), message, help);
    }
    missing.is_empty()
}

impl Reading<'_> {
    /// A cell as a value of this form.
    fn value(&self, text: &str, shape: &Shape, span: Span) -> Option<Value> {
        let told = |message| {
            let help = "see the handbook, page workbooks, for what several values in a cell look like";
            self.findings.report(&code::BAD_CELL, span, message, help);
        };
        parse(text, shape).map_err(told).ok()
    }

    fn report_twice(&self, name: &str, second: Span, first: Span) {
        let message = format!("`{name}` stands twice in the same place");
        let help = "keep one of the two, or give the second its own name";
        self.findings.report_at(&code::DUPLICATE_KEY, vec![second, first], message, help);
    }

    /// The tables that the settings do not name lie in the workbook itself.
    fn own_tables(&mut self, book: &Book) {
        let span = Span::File(book.file);
        for table in TABLES.iter().filter(|table| matches!(table.shape, Shape::Text)) {
            let sheet = book.sheet(table.name);
            if sheet.is_some() || table.needed {
                let name = format!("{}#{}", book.name, sheet.as_deref().unwrap_or(table.name));
                // A table that the settings name stays where they say.
                drop(self.tree.insert(&["tables", table.name], span, span, Value::String(name)));
            }
        }
    }
}
