//! The cells of a table as texts, whatever file they came from, before its columns are known.

use crate::diagnose::{Code, FileId};
use crate::read::number::Comma;
use csv::StringRecord;
use std::ops::RangeInclusive;

/// Rows of text cells.
pub struct Grid {
    /// The file or sheet.
    pub file: FileId,
    /// Its name, for messages.
    pub name: String,
    /// Line and cells of every row that is not blank; the first is the header.
    pub rows: Vec<(u32, StringRecord)>,
    /// How a comma in a number is meant.
    pub comma: Comma,
    /// How a bare number in a column of times is meant, where the file itself says so.
    pub epoch: Option<Epoch>,
    /// Whether every row has as many cells as the header, empty ones included.
    pub counted: bool,
    /// What cannot be read.
    pub faults: Vec<Fault>,
}

/// Cells that cannot be read: of account only where the table uses their columns.
pub struct Fault {
    /// Their rows.
    pub lines: RangeInclusive<u32>,
    /// Their columns.
    pub fields: RangeInclusive<u16>,
    /// What kind of fault it is.
    pub code: &'static Code,
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub help: &'static str,
}

/// The day from which a spreadsheet counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Epoch {
    /// 1 is the first of January 1900, and a day too many stands at 60.
    Y1900,
    /// 0 is the first of January 1904.
    Y1904,
}
