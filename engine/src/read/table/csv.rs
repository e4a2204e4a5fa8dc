//! CSV as people have it: comma, semicolon or tab, with or without a byte-order mark, any line ends.

use super::grid::Grid;
use crate::diagnose::{FileId, Findings};
use crate::read::Sources;
use crate::read::number::Comma;
use csv::{ReaderBuilder, StringRecord};

/// Reads the cells of a CSV file; `None` with a finding where it is no text.
pub fn grid(file: FileId, sources: &mut Sources, findings: &Findings) -> Option<Grid> {
    sources.decode(file, findings);
    let text = sources.text(file, findings)?;
    let separator = separator(text);
    let rows = records(text, separator);
    sources.set_separator(file, separator);
    Some(Grid {
        file,
        name: sources.name(file).to_owned(),
        rows,
        comma: if separator == b',' { Comma::Doubtful } else { Comma::Decimal },
        epoch: None,
        counted: true,
        faults: Vec::new(),
    })
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
