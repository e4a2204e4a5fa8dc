//! A table of text cells with the place of each, whatever file it came from.

mod cells;
mod csv;
pub mod fields;
pub mod grid;
mod header;
pub mod moment;
mod open;
mod parquet;
mod time_slips;

pub use cells::{Recent, Row};
pub use csv::{Records, comma, separator};
pub use header::{called, comparable};
pub use open::{Wanted, grid, open};
pub use parquet::Packed;

use super::number::Comma;
use crate::diagnose::{FileId, Findings, Severity, Span, code};
use crate::model::Column;
use crate::model::column::Cells;
use grid::{Fault, Grid};
use moment::Dates;
use std::sync::Arc;

/// The columns of a table, matched to their names, and how its cells are written.
#[derive(Clone)]
pub struct Columns {
    file: FileId,
    /// Line of the header.
    line: u32,
    /// Known columns and the fields that hold them.
    cells: Arc<Cells>,
    /// Units that the header gives in brackets, by column.
    units: Vec<(Column, String)>,
    comma: Comma,
    /// How dates are written.
    dates: Dates,
    /// How bare numbers are counted as dates, where the file says so.
    serial: Dates,
}

/// A table whose columns have been matched to their names.
pub struct Table {
    columns: Columns,
    /// Line and cells of every row that is not blank.
    rows: Vec<(u32, ::csv::StringRecord)>,
    /// Whether rows were left out because they cannot be read.
    ragged: bool,
    recent: Recent,
}

impl Table {
    /// Matches a grid to the columns wanted; `None` with findings where it cannot be.
    fn of(grid: Grid, wanted: &Wanted, findings: &Findings) -> Option<Table> {
        let Some(((line, header), _)) = grid.rows.split_first() else {
            let help = format!("begin it with a header line: {}", header::line(wanted.columns));
            findings.report(
                &code::TABLE_EMPTY,
                Span::File(grid.file),
                format!("{} is empty", grid.name),
                help,
            );
            return None;
        };
        let (above, below): (Vec<&Fault>, _) =
            grid.faults.iter().partition(|fault| fault.is_error() && fault.lines.contains(line));
        above.iter().for_each(|fault| fault.report(grid.file, findings));
        let mut columns =
            Columns::of((grid.file, &grid.name), (*line, header), grid.comma, wanted, findings)?;
        columns.serial = grid.epoch.map_or(wanted.dates, Dates::Serial);
        let faults: Vec<&Fault> = below.into_iter().filter(|fault| fault.concerns(&columns.cells)).collect();
        faults.iter().for_each(|fault| fault.report(grid.file, findings));
        let spoilt: Vec<&Fault> = faults.into_iter().filter(|fault| fault.is_error()).collect();
        grid.report_beside(header.len(), findings);
        let fits = |line: u32, row: &::csv::StringRecord| {
            !spoilt.iter().any(|fault| fault.lines.contains(&line))
                && grid.is_even(line, row, header.len(), findings)
        };
        let rows: Vec<_> = grid.rows[1..].iter().filter(|(line, row)| fits(*line, row)).cloned().collect();
        Some(Table { columns, ragged: rows.len() + 1 < grid.rows.len(), rows, recent: Recent::default() })
    }
}

impl Columns {
    /// Matches a header line to the columns wanted; `None` with findings where it cannot be.
    pub fn of(
        (file, name): (FileId, &str),
        header: (u32, &::csv::StringRecord),
        comma: Comma,
        wanted: &Wanted,
        findings: &Findings,
    ) -> Option<Columns> {
        let known = (wanted.columns, wanted.synonyms.as_slice());
        let (cells, units) = header::columns(file, name, header, known, findings)?;
        let (cells, dates, line) = (Arc::new(cells), wanted.dates, header.0);
        Some(Columns { file, line, cells, units, comma, dates, serial: dates })
    }
}

impl Fault {
    /// Whether it lies in a column that is used.
    fn concerns(&self, cells: &Cells) -> bool {
        cells.fields().any(|field| self.fields.contains(&field))
    }

    /// Whether its cells cannot be read at all.
    pub fn is_error(&self) -> bool {
        self.code.severity == Severity::Error
    }

    /// Reports it.
    pub fn report(&self, file: FileId, findings: &Findings) {
        let span = Span::Cell { file, line: *self.lines.start(), field: Some(*self.fields.start()) };
        findings.report(self.code, span, self.message.as_str(), self.help);
    }
}

impl Grid {
    /// Says that cells of a sheet beside the table have no heading; where cells are counted they are faults.
    fn report_beside(&self, width: usize, findings: &Findings) {
        let beside =
            |row: &::csv::StringRecord| row.iter().skip(width).position(|cell| !cell.trim().is_empty());
        let first = self.rows.iter().find_map(|(line, row)| Some((*line, width + beside(row)?)));
        if let (false, Some((line, field))) = (self.counted, first) {
            findings.report(
                &code::EXTRA_COLUMNS,
                Span::Cell { file: self.file, line, field: Some(field as u16) },
                format!("{} has cells beside the table, under no heading; they are not used", self.name),
                "nothing need be done, unless they belong to the table: then give them a heading",
            );
        }
    }

    /// Whether a row has as many cells as the header, where that is counted.
    fn is_even(&self, line: u32, row: &::csv::StringRecord, width: usize, findings: &Findings) -> bool {
        !self.counted || is_even(self.file, line, row, width, findings)
    }
}

/// Whether a row has as many cells as the header, `width`; empty cells past its end do no harm. A finding where it has not.
pub fn is_even(
    file: FileId,
    line: u32,
    row: &::csv::StringRecord,
    width: usize,
    findings: &Findings,
) -> bool {
    let longer = row.iter().skip(width).any(|cell| !cell.trim().is_empty());
    if row.len() >= width && !longer {
        return true;
    }
    let cells = if row.len() == 1 { "1 cell".to_owned() } else { format!("{} cells", row.len()) };
    let message = format!("this row has {cells}, the header has {width}");
    let unclosed = row.iter().any(|cell| cell.contains('\n'));
    let help = match unclosed {
        true => "a quote that opens here is not closed",
        false => {
            "give every column a cell, empty if need be; put quotes around a text that holds the separator, and close every quote"
        }
    };
    findings.report(&code::RAGGED_ROW, Span::Cell { file, line, field: None }, message, help);
    false
}
