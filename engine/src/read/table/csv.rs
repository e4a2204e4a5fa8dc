//! CSV as people have it: comma, semicolon or tab, with or without a byte-order mark, any line ends.

use super::{Table, columns, needed};
use crate::diagnose::{FileId, Findings, Span, code};
use crate::read::Sources;
use crate::read::fields::Field;
use crate::read::number::Comma;
use csv::{ReaderBuilder, StringRecord};
use std::sync::Arc;

/// Opens a table; `None` with findings where its columns cannot be matched.
pub fn open(
    name: &str,
    mentioned: Span,
    wanted: &[Field],
    sources: &mut Sources,
    findings: &Findings,
) -> Option<Table> {
    if !has_known_ending(name) {
        let help = "save the table as CSV (`.csv`, `.tsv` or `.txt`)";
        findings.report(
            &code::UNKNOWN_FORMAT,
            mentioned,
            format!("{name} is no table that can be read"),
            help,
        );
        return None;
    }
    let file = sources.open(name, Some(mentioned), findings)?;
    if sources.bytes(file).starts_with(ARCHIVE) {
        let message = format!("{name} is a spreadsheet's own file or an archive, whatever its name");
        findings.report(
            &code::UNKNOWN_FORMAT,
            mentioned,
            message,
            "open it in the spreadsheet and save it as CSV",
        );
        return None;
    }
    let text = sources.text(file, findings)?;
    let separator = separator(text);
    let records = records(text, separator);
    sources.set_separator(file, separator);
    let Some((header, rows)) = records.split_first() else {
        let help = format!("begin it with a header line: {}", needed(wanted).collect::<Vec<_>>().join(","));
        findings.report(&code::TABLE_EMPTY, Span::File(file), format!("{name} is empty"), help);
        return None;
    };
    let (cells, units) = columns(file, name, (header.0, &header.1), wanted, findings)?;
    let even = even_rows(file, header.1.len(), rows, findings);
    let ragged = even.len() < rows.len();
    let comma = if separator == b',' { Comma::Doubtful } else { Comma::Decimal };
    Some(Table { file, cells: Arc::new(cells), units, comma, rows: even, ragged })
}

/// First bytes of a ZIP archive, which an .xlsx file is too.
const ARCHIVE: &[u8] = b"PK\x03\x04";

fn has_known_ending(name: &str) -> bool {
    let ending = name.rsplit('.').next().unwrap_or("").to_lowercase();
    ["csv", "tsv", "txt"].contains(&ending.as_str())
}

/// The separator that stands most often in the first line that is not blank.
fn separator(text: &str) -> u8 {
    let line = text.lines().find(|l| !l.trim().is_empty()).unwrap_or("");
    let count = |separator: u8| line.bytes().filter(|&b| b == separator).count();
    let mut best = b',';
    for candidate in [b';', b'\t'] {
        if count(candidate) > count(best) {
            best = candidate;
        }
    }
    best
}

/// The records that are not blank, each with the line on which it starts. The lines are counted here: the reader
/// counts blank lines before a record to the record.
fn records(text: &str, separator: u8) -> Vec<(u32, StringRecord)> {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    let bytes = text.as_bytes();
    let (mut list, mut record, mut line, mut counted) = (Vec::new(), StringRecord::new(), 1, 0);
    // The text is valid UTF-8 and flexible records have no wrong length, so nothing else can go wrong.
    while reader.read_record(&mut record).unwrap_or(false) {
        let from = record.position().map_or(0, |p| p.byte() as usize);
        let start = from + bytes[from..].iter().take_while(|b| b"\r\n".contains(b)).count();
        line += bytes[counted..start].iter().filter(|&&b| b == b'\n').count() as u32;
        counted = start;
        if record.iter().any(|cell| !cell.trim().is_empty()) {
            list.push((line, record.clone()));
        }
    }
    list
}

/// The rows with as many cells as the header; empty cells past its end do no harm.
fn even_rows(
    file: FileId,
    width: usize,
    rows: &[(u32, StringRecord)],
    findings: &Findings,
) -> Vec<(u32, StringRecord)> {
    let mut even = Vec::with_capacity(rows.len());
    for (line, row) in rows {
        if row.len() < width || row.iter().skip(width).any(|cell| !cell.trim().is_empty()) {
            let cells = if row.len() == 1 { "1 cell".to_owned() } else { format!("{} cells", row.len()) };
            let message = format!("this row has {cells}, the header has {width}");
            let unclosed = row.iter().any(|cell| cell.contains('\n'));
            let help = match unclosed {
                true => "a quote that opens here is not closed",
                false => {
                    "give every column a cell, empty if need be; put quotes around a text that holds the separator, and close every quote"
                }
            };
            findings.report(&code::RAGGED_ROW, Span::Cell { file, line: *line, field: None }, message, help);
        } else {
            even.push((*line, row.clone()));
        }
    }
    even
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blank_lines_and_quoted_breaks_do_not_shift_the_lines() {
        let rows = records("a,b\r\n\r\n\"x\ny\",1\r\n,\r\nz,2", b',');
        assert_eq!(
            rows.iter().map(|(line, r)| (*line, &r[0])).collect::<Vec<_>>(),
            [(1, "a"), (3, "x\ny"), (6, "z")]
        );
    }

    #[test]
    fn the_separator_is_seen_in_the_header() {
        assert_eq!(separator("a;b;c\n1,5;2;3"), b';');
        assert_eq!(separator("a\tb"), b'\t');
        assert_eq!(separator("a"), b',');
    }
}
