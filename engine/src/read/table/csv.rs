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
        comma: comma(separator),
        epoch: None,
        counted: true,
        faults: Vec::new(),
    })
}

/// The separator that stands most often in the first line that is not blank.
pub fn separator(text: &str) -> u8 {
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

/// How a comma in a number is meant, by what parts the cells.
pub fn comma(separator: u8) -> Comma {
    if separator == b',' { Comma::Doubtful } else { Comma::Decimal }
}

/// The records that are not blank, each with the line on which it starts.
fn records(text: &str, separator: u8) -> Vec<(u32, StringRecord)> {
    let (mut list, mut record) = (Vec::new(), StringRecord::new());
    let mut records = Records::of(text.as_bytes(), separator, 1);
    while let Some(line) = records.next(&mut record) {
        list.push((line, record.clone()));
    }
    list
}

/// The records of a text that is UTF-8, one after the other.
pub struct Records<'a> {
    reader: csv::Reader<&'a [u8]>,
    bytes: &'a [u8],
    /// Number of the first line.
    first: u32,
}

impl<'a> Records<'a> {
    /// Records from `bytes`, of which the first line has the number `first`.
    pub fn of(bytes: &'a [u8], separator: u8, first: u32) -> Records<'a> {
        let mut builder = ReaderBuilder::new();
        builder.has_headers(false).flexible(true).delimiter(separator);
        Records { reader: builder.from_reader(bytes), bytes, first }
    }

    /// Reads the next record that is not blank and gives the line on which it starts; `None` at the end. The reader counts blank
    /// lines before a record, and the rest of a line end of two bytes, to the record.
    pub fn next(&mut self, record: &mut StringRecord) -> Option<u32> {
        // The text is valid UTF-8 and flexible records have no wrong length, so nothing else can go wrong.
        while self.reader.read_record(record).unwrap_or(false) {
            if !is_blank(record) {
                let (from, before) = record.position().map_or((0, 0), |p| (p.byte(), p.line() - 1));
                let ends = self.bytes[from as usize..].iter().take_while(|b| b"\r\n".contains(b));
                return Some(self.first + before as u32 + ends.filter(|&&b| b == b'\n').count() as u32);
            }
        }
        None
    }
}

/// Whether there is nothing but blanks in a record.
pub fn is_blank(record: &StringRecord) -> bool {
    let cells = record.as_slice();
    !cells.starts_with(|c: char| c.is_ascii_graphic()) && cells.trim().is_empty()
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
