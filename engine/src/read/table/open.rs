//! Which file is read in which way.

use super::grid::Grid;
use super::moment::Dates;
use super::{Table, csv, parquet};
use crate::diagnose::{FileId, Findings, Span, code};
use crate::read::Sources;
use crate::read::fields::Field;
use crate::read::workbook;

/// A table that the study names.
#[derive(Clone)]
pub struct Wanted {
    /// What it is, as `readings`.
    pub kind: &'static str,
    /// Its file, as `readings.csv`, `field.xlsx` or `field.xlsx#readings`.
    pub name: String,
    /// Where the study names it.
    pub span: Span,
    /// Its columns.
    pub columns: &'static [Field],
    /// Other headings of theirs, as they are compared.
    pub synonyms: Vec<(String, &'static str)>,
    /// How its dates are written.
    pub dates: Dates,
}

/// How a file is read.
type Reader = fn(FileId, Option<&str>, &Wanted, &mut Sources, &Findings) -> Option<Grid>;

/// The ways of reading, by the ending of the name.
const READERS: [(&str, Reader); 6] = [
    ("csv", |file, _, _, sources, findings| csv::grid(file, sources, findings)),
    ("tsv", |file, _, _, sources, findings| csv::grid(file, sources, findings)),
    ("txt", |file, _, _, sources, findings| csv::grid(file, sources, findings)),
    ("xlsx", workbook::table),
    ("xlsm", workbook::table),
    ("parquet", |file, _, wanted, sources, findings| parquet::grid(file, wanted, sources, findings)),
];

/// First bytes of a ZIP archive, which an .xlsx file is too.
const ARCHIVE: &[u8] = b"PK\x03\x04";

/// Opens a table; `None` with findings where it cannot be read.
pub fn open(wanted: &Wanted, sources: &mut Sources, findings: &Findings) -> Option<Table> {
    let grid = grid(wanted, sources, findings)?;
    Table::of(grid, wanted, findings)
}

/// The cells of a table as they stand in its file; `None` with findings where it cannot be read.
pub fn grid(wanted: &Wanted, sources: &mut Sources, findings: &Findings) -> Option<Grid> {
    let (name, sheet) = parts(&wanted.name);
    let ending = name.rsplit('.').next().unwrap_or("").to_lowercase();
    let Some((ending, reader)) = READERS.iter().find(|(known, _)| *known == ending) else {
        findings.report(
            &code::UNKNOWN_FORMAT,
            wanted.span,
            format!("{name} is no table that can be read"),
            "save the table as CSV (`.csv`, `.tsv` or `.txt`), as a workbook (`.xlsx`) or as `.parquet`",
        );
        return None;
    };
    let file = sources.open(name, Some(wanted.span), findings)?;
    if !ending.starts_with("xls") && sources.bytes(file).starts_with(ARCHIVE) {
        findings.report(
            &code::UNKNOWN_FORMAT,
            wanted.span,
            format!("{name} is a spreadsheet's own file or an archive, whatever its name"),
            "give it the ending .xlsx if it is a workbook, or save it as CSV",
        );
        return None;
    }
    reader(file, sheet, wanted, sources, findings)
}

/// The file and, where one is named, the sheet: `field.xlsx#readings`.
fn parts(name: &str) -> (&str, Option<&str>) {
    match name.rsplit_once('#') {
        Some((file, sheet)) if workbook::is_workbook(file) => (file, Some(sheet)),
        _ => (name, None),
    }
}

#[cfg(test)]
mod tests {
    use super::parts;

    #[test]
    fn a_sheet_stands_behind_a_hash() {
        assert_eq!(parts("field.xlsx#readings"), ("field.xlsx", Some("readings")));
        assert_eq!(parts("field.xlsx"), ("field.xlsx", None));
        assert_eq!(parts("day #1.csv"), ("day #1.csv", None));
    }
}
