//! The columns of a sheet of the study, in their order.

use crate::diagnose::{FileId, Findings, Span, code, nearest};
use crate::read::table::comparable;
use crate::read::table::grid::Grid;
use csv::StringRecord;

/// Columns with a heading.
pub struct Columns {
    file: FileId,
    header: u32,
    list: Vec<(String, u16)>,
}

impl Columns {
    /// Finds the columns of a sheet; `None` with findings where one that is needed is missing, or cells of the sheet
    /// cannot be read.
    pub fn of(grid: &Grid, needed: &[&str], findings: &Findings) -> Option<Columns> {
        grid.faults.iter().for_each(|fault| fault.report(grid.file, findings));
        let Some((header, headings)) = grid.rows.first() else {
            let message = format!("{} is empty", grid.name);
            let help = format!("begin it with a header line: {}", needed.join(","));
            findings.report(&code::TABLE_EMPTY, Span::File(grid.file), message, help);
            return None;
        };
        let headings = headings.iter().enumerate().map(|(field, text)| (comparable(text), field as u16));
        let list = headings.filter(|(name, _)| !name.is_empty()).collect();
        let columns = Columns { file: grid.file, header: *header, list };
        let missing: Vec<&str> =
            needed.iter().copied().filter(|name| columns.field(name).is_none()).collect();
        for name in &missing {
            let span = Span::Cell { file: grid.file, line: *header, field: None };
            let message = format!("{} has no column `{name}`", grid.name);
            findings.report(&code::MISSING_COLUMN, span, message, nearest(name, columns.names()));
        }
        let readable = !grid.faults.iter().any(|fault| fault.is_error());
        (readable && missing.is_empty()).then_some(columns)
    }

    /// Their names.
    pub fn names(&self) -> impl Iterator<Item = &str> + Clone {
        self.list.iter().map(|(name, _)| name.as_str())
    }

    fn field(&self, name: &str) -> Option<u16> {
        self.list.iter().find(|(column, _)| column == name).map(|(_, field)| *field)
    }

    /// The place of a cell.
    pub fn at(&self, line: u32, name: &str) -> Span {
        Span::Cell { file: self.file, line, field: self.field(name) }
    }

    /// The place of a heading.
    pub fn heading(&self, name: &str) -> Span {
        self.at(self.header, name)
    }

    /// A cell, if it is there and not empty.
    pub fn text<'a>(&self, row: &'a StringRecord, name: &str) -> Option<&'a str> {
        let cell = row.get(usize::from(self.field(name)?))?;
        Some(cell.trim()).filter(|text| !text.is_empty())
    }
}
