//! Workbooks: what is in a sheet as rows of texts, and what in it cannot be read.
//!
//! calamine reads the cells; this module says which sheet, keeps memory and time within bounds, and turns what only a
//! spreadsheet has (dates as numbers, formulas, merged cells, errors) into texts or findings.

mod archive;
mod cell;
mod hidden;
pub mod notation;
mod sheet;
pub mod study;

use crate::diagnose::{FileId, Findings, Span, code, nearest};
use crate::read::Sources;
use crate::read::number::Comma;
use crate::read::table::grid::{Epoch, Grid};
use crate::read::table::{Wanted, comparable};
use crate::read::unbroken;
use archive::Refused;
use calamine::{Reader, Xlsx};
use std::io::Cursor;

/// A workbook that could be opened.
pub struct Book {
    file: FileId,
    name: String,
    xlsx: Xlsx<Cursor<Vec<u8>>>,
}

/// Whether a file of this name is a workbook.
pub fn is_workbook(name: &str) -> bool {
    let name = name.to_lowercase();
    [".xlsx", ".xlsm"].iter().any(|ending| name.ends_with(ending))
}

/// The grid of the sheet that a table is in: the one named, or the one called as the table, or the only one.
pub fn table(
    file: FileId,
    sheet: Option<&str>,
    wanted: &Wanted,
    sources: &mut Sources,
    findings: &Findings,
) -> Option<Grid> {
    let mut book = Book::open(file, wanted.span, sources, findings)?;
    let chosen = match sheet {
        Some(name) => book.sheet(name),
        None => book.sheet(wanted.kind).or_else(|| book.only()),
    };
    let Some(chosen) = chosen else {
        book.report_missing(sheet, wanted, findings);
        return None;
    };
    book.grid(&chosen, sources, findings)
}

impl Book {
    /// Opens a workbook; a finding at `mentioned` where that cannot be.
    pub fn open(file: FileId, mentioned: Span, sources: &Sources, findings: &Findings) -> Option<Book> {
        let name = sources.name(file).to_owned();
        let bytes = sources.bytes(file);
        let opened = archive::examine(bytes)
            .and_then(|()| unbroken(|| Xlsx::new(Cursor::new(bytes.to_vec()))).ok_or(Refused::Damaged))
            .and_then(|opened| opened.map_err(|_| Refused::Damaged));
        match opened {
            Ok(xlsx) => Some(Book { file, name, xlsx }),
            Err(refused) => {
                refused.report(&name, mentioned, findings);
                None
            }
        }
    }

    /// The names of its sheets.
    pub fn sheets(&self) -> Vec<String> {
        self.xlsx.sheet_names()
    }

    /// The sheet of this name; case, blanks and hyphens do not count.
    pub fn sheet(&self, name: &str) -> Option<String> {
        let names = self.sheets();
        let same = |other: &&String| comparable(other) == comparable(name);
        names.iter().find(|other| *other == name).or_else(|| names.iter().find(same)).cloned()
    }

    fn only(&self) -> Option<String> {
        match self.sheets().as_slice() {
            [one] => Some(one.clone()),
            _ => None,
        }
    }

    fn report_missing(&self, sheet: Option<&str>, wanted: &Wanted, findings: &Findings) {
        let names = self.sheets();
        let looked_for = sheet.unwrap_or(wanted.kind);
        let near = nearest(looked_for, names.iter().map(String::as_str));
        let message = format!("{} has no sheet `{looked_for}`", self.name);
        let help = match sheet {
            Some(_) => near,
            None => format!("name the sheet behind a hash, as {}#SHEET; {near}", self.name),
        };
        findings.report(&code::SHEET_MISSING, wanted.span, message, help);
    }

    /// The cells of a sheet.
    pub fn grid(&mut self, sheet: &str, sources: &mut Sources, findings: &Findings) -> Option<Grid> {
        let epoch = if self.xlsx.has_1904_epoch() { Epoch::Y1904 } else { Epoch::Y1900 };
        match unbroken(|| sheet::read(&mut self.xlsx, sheet, epoch)).unwrap_or(Err(Refused::Damaged)) {
            Ok(mut read) => {
                let hidden = hidden::rows(sources.bytes(self.file), sheet);
                read.faults.extend(sheet::hidden(&read.rows, &hidden));
                let file = sources.add_rows(self.file, Some(sheet), read.rows.clone());
                Some(Grid {
                    file,
                    name: sources.name(file).to_owned(),
                    rows: read.rows,
                    comma: Comma::Doubtful,
                    epoch: Some(epoch),
                    counted: false,
                    faults: read.faults,
                })
            }
            Err(refused) => {
                let file = sources.add_rows(self.file, Some(sheet), Vec::new());
                refused.report(&format!("{}#{sheet}", self.name), Span::File(file), findings);
                None
            }
        }
    }
}
