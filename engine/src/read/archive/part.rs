//! The files of a long table, and the chunks in which they are read.

use super::super::Sources;
use super::super::sources::{Long, Piece};
use super::super::table::{Columns, Packed, Recent, Records, Row, Wanted, comma, is_even, separator};
use crate::diagnose::{FileId, Findings, Span, code};
use crate::model::Column;
use csv::StringRecord;

/// Findings in a chunk, an error among them, from which on the rest of it is not read: nothing will be assessed.
const ENOUGH: usize = 100;

/// One file of a long table.
pub struct Part {
    /// Its columns.
    pub columns: Columns,
    file: FileId,
    name: String,
    /// Cells of the header.
    width: usize,
    content: Content,
}

enum Content {
    Text(Long),
    Packed(Packed),
}

/// Rows of a part that are read together: its number among the chunks of the part.
pub type Chunk = usize;

/// Opens the files of a long table; `None` with findings where one cannot be read.
pub fn open(wanted: &Wanted, sources: &mut Sources, findings: &Findings) -> Option<Vec<Part>> {
    let files = sources.open_long(&wanted.name, wanted.span, findings)?;
    if files.is_empty() {
        let message = format!("{} is a folder without a file", wanted.name);
        findings.report(&code::FILE_MISSING, wanted.span, message, "put the files of the table into it");
        return None;
    }
    files.into_iter().map(|file| Part::open(file, wanted, sources, findings)).collect()
}

impl Part {
    fn open(file: FileId, wanted: &Wanted, sources: &mut Sources, findings: &Findings) -> Option<Part> {
        let (name, long) = (sources.name(file).to_owned(), sources.long(file)?.clone());
        let ending = name.rsplit('.').next().unwrap_or("").to_lowercase();
        match ending.as_str() {
            "parquet" => {
                let packed = Packed::open(&long.path, &name, wanted, findings)?;
                let header = packed.header();
                let columns = Columns::of((file, &name), (1, &header), comma(b','), wanted, findings)?;
                Some(Part { columns, file, name, width: header.len(), content: Content::Packed(packed) })
            }
            "csv" | "tsv" | "txt" => Part::of_text(file, name, long, wanted, sources, findings),
            _ => {
                let message = format!("{name} is no table that can be read piece by piece");
                let help = "save a table of more than 1 MiB as CSV or as Parquet";
                findings.report(&code::UNKNOWN_FORMAT, wanted.span, message, help);
                None
            }
        }
    }

    fn of_text(
        file: FileId,
        name: String,
        mut long: Long,
        wanted: &Wanted,
        sources: &mut Sources,
        findings: &Findings,
    ) -> Option<Part> {
        let first = long.pieces.first().copied().unwrap_or(Piece { from: 0, length: 0, line: 1, lines: 0 });
        let bytes = text_of(&long, &first, file, &name, findings)?;
        long.separator = separator(std::str::from_utf8(&bytes).unwrap_or(""));
        sources.set_separator(file, long.separator);
        let mut header = StringRecord::new();
        let line = Records::of(&bytes, long.separator, 1).next(&mut header).unwrap_or(1);
        let columns = Columns::of((file, &name), (line, &header), comma(long.separator), wanted, findings)?;
        Some(Part { columns, file, name, width: header.len(), content: Content::Text(long) })
    }

    /// The chunks.
    pub fn chunks(&self) -> usize {
        match &self.content {
            Content::Text(long) => long.pieces.len(),
            Content::Packed(packed) => packed.chunks(),
        }
    }

    /// Rows, blank ones and the header perhaps among them.
    pub fn rows(&self) -> usize {
        match &self.content {
            Content::Text(long) => long.pieces.iter().map(|piece| piece.lines as usize).sum(),
            Content::Packed(packed) => packed.rows(),
        }
    }

    /// Shows every row of a chunk; findings where rows cannot be read.
    pub fn each_row(&self, chunk: Chunk, findings: &Findings, show: impl FnMut(&Row)) {
        match &self.content {
            Content::Text(long) => self.each_line(long, chunk, findings, show),
            Content::Packed(packed) => {
                packed.each_row(chunk, &self.columns.apart(), &self.name, findings, show)
            }
        }
    }

    /// Shows every cell of a column of a chunk that is not empty; what cannot be read is told when the rows are read.
    pub fn each_cell(&self, chunk: Chunk, column: Column, mut show: impl FnMut(&str)) {
        match (&self.content, self.columns.field(column)) {
            (Content::Packed(packed), Some(field)) => packed.each_cell(chunk, usize::from(field), show),
            _ => self.each_row(chunk, &Findings::default(), |row| {
                row.text(column).into_iter().for_each(&mut show)
            }),
        }
    }

    fn each_line(&self, long: &Long, chunk: Chunk, findings: &Findings, mut show: impl FnMut(&Row)) {
        let piece = &long.pieces[chunk];
        let Some(bytes) = text_of(long, piece, self.file, &self.name, findings) else { return };
        let (columns, recent) = (self.columns.apart(), Recent::default());
        let (mut records, mut record) =
            (Records::of(&bytes, long.separator, piece.line), StringRecord::new());
        if chunk == 0 {
            records.next(&mut record);
        }
        while let Some(line) = records.next(&mut record) {
            if record.len() == self.width || is_even(self.file, line, &record, self.width, findings) {
                show(&columns.row(line, &record, &recent, findings));
            }
            if findings.count() > ENOUGH && findings.has_errors() {
                return;
            }
        }
    }
}

/// The text of a piece; a finding where it cannot be read or is no UTF-8.
fn text_of(long: &Long, piece: &Piece, file: FileId, name: &str, findings: &Findings) -> Option<Vec<u8>> {
    let mut bytes = match long.bytes(piece) {
        Ok(bytes) => bytes,
        Err(error) => {
            let message = format!("{name} cannot be read: {error}");
            let help = "check that the disk is in order and that no other program is writing the file";
            findings.report(&code::FILE_UNREADABLE, Span::File(file), message, help);
            return None;
        }
    };
    if piece.from == 0 && bytes.starts_with(b"\xEF\xBB\xBF") {
        bytes.drain(..3);
    }
    match std::str::from_utf8(&bytes) {
        Ok(_) => Some(bytes),
        Err(error) => {
            let before = &bytes[..error.valid_up_to()];
            let line = piece.line + memchr::memchr_iter(b'\n', before).count() as u32;
            let message =
                format!("{name} is not in UTF-8: byte 0x{:02X} cannot stand here", bytes[before.len()]);
            let help = "save the file again as UTF-8; a spreadsheet calls it \"CSV UTF-8\"";
            findings.report(&code::NOT_UTF8, Span::Cell { file, line, field: None }, message, help);
            None
        }
    }
}
