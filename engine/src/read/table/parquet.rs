//! Parquet tables: columns of texts and numbers.

use super::csv::is_blank;
use super::grid::Grid;
use super::{Columns, Recent, Row, Wanted};
use crate::diagnose::{FileId, Findings, code};
use crate::read::Sources;
use crate::read::number::Comma;
use chrono::{DateTime, Duration, NaiveDate, NaiveDateTime, Timelike};
use csv::StringRecord;
use polars::io::mmap::MmapBytesReader;
use polars::io::parquet::metadata::{FileMetadata, FileMetadataRef};
use polars::prelude::{
    AnyValue, ArrowDataType, Column, DataFrame, ParallelStrategy, ParquetReader, SerReader, TimeUnit,
};
use std::fmt::{self, Write};
use std::fs::File;
use std::io::Cursor;
use std::ops::Range;
use std::panic;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Most rows that are taken; a study has hundreds.
const MOST_ROWS: usize = 2_000_000;

/// Reads the cells of a Parquet file; `None` with a finding where that cannot be.
pub fn grid(file: FileId, wanted: &Wanted, sources: &mut Sources, findings: &Findings) -> Option<Grid> {
    let name = sources.name(file).to_owned();
    let frame = match unbroken(|| frame(sources.bytes(file))) {
        Ok(frame) => frame,
        Err(refused) => {
            let (message, help) = refused.words(&name);
            findings.report(&code::TABLE_DAMAGED, wanted.span, message, help);
            return None;
        }
    };
    let rows = rows(&frame);
    let file = sources.add_rows(file, None, rows.clone());
    Some(Grid { file, name, rows, comma: Comma::Doubtful, epoch: None, counted: false, faults: Vec::new() })
}

/// Rows of a chunk, about: groups of rows are read whole.
const CHUNK: usize = 100_000;

/// A Parquet file too long to be kept: read some groups of rows at a time.
pub struct Packed {
    path: PathBuf,
    names: Vec<String>,
    chunks: Vec<Rows>,
}

/// Groups of rows that are read together.
struct Rows {
    /// Number of the first row.
    from: usize,
    /// The layout of the file as if it held no others: a reader that is asked for some rows still unpacks a part of all before.
    layout: FileMetadataRef,
}

impl Packed {
    /// Reads how a file is laid out; `None` with a finding where that cannot be.
    pub fn open(path: &Path, name: &str, wanted: &Wanted, findings: &Findings) -> Option<Packed> {
        match unbroken(|| Packed::laid_out(path)) {
            Ok(packed) => Some(packed),
            Err(refused) => {
                let (message, help) = refused.words(name);
                findings.report(&code::TABLE_DAMAGED, wanted.span, message, help);
                None
            }
        }
    }

    fn laid_out(path: &Path) -> Result<Packed, Refused> {
        let mut reader = ParquetReader::new(File::open(path).map_err(|_| Refused::Damaged)?);
        let names = plain_names(&mut reader)?;
        let layout = reader.get_metadata().map_err(|_| Refused::Damaged)?.clone();
        let mut ranges: Vec<(Range<usize>, usize)> = Vec::new();
        for (number, group) in layout.row_groups.iter().enumerate() {
            match ranges.last_mut() {
                Some((range, rows)) if *rows + group.num_rows() <= CHUNK => {
                    range.end = number + 1;
                    *rows += group.num_rows();
                }
                _ => ranges.push((number..number + 1, group.num_rows())),
            }
        }
        let bare = FileMetadata { row_groups: Vec::new(), ..(*layout).clone() };
        let mut from = 0;
        let chunk = |(range, num_rows): (Range<usize>, usize)| {
            from += num_rows;
            let row_groups = layout.row_groups[range].to_vec();
            let layout = Arc::new(FileMetadata { num_rows, row_groups, ..bare.clone() });
            Rows { from: from - num_rows, layout }
        };
        Ok(Packed { path: path.to_owned(), names, chunks: ranges.into_iter().map(chunk).collect() })
    }

    /// The names of its columns.
    pub fn header(&self) -> StringRecord {
        self.names.iter().map(String::as_str).collect()
    }

    /// Number of chunks.
    pub fn chunks(&self) -> usize {
        self.chunks.len()
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.chunks.iter().map(|chunk| chunk.layout.num_rows).sum()
    }

    /// A chunk, or one column of it.
    fn frame(&self, chunk: usize, column: Option<usize>) -> Result<DataFrame, Refused> {
        let read = || {
            let file = File::open(&self.path).map_err(|_| Refused::Damaged)?;
            let mut reader = ParquetReader::new(file);
            reader.set_metadata(self.chunks[chunk].layout.clone());
            reader
                .set_low_memory(true)
                .with_columns(column.map(|at| vec![self.names[at].clone()]))
                .read_parallel(ParallelStrategy::None)
                .finish()
                .map_err(|_| Refused::Damaged)
        };
        panic::catch_unwind(panic::AssertUnwindSafe(read)).unwrap_or(Err(Refused::Damaged))
    }

    /// Shows every cell of a column of a chunk; nothing where it cannot be read.
    pub fn each_cell(&self, chunk: usize, column: usize, mut show: impl FnMut(&str)) {
        let Ok(frame) = self.frame(chunk, Some(column)) else { return };
        each_record(&frame, |_, record| show(record.as_slice().trim()));
    }

    /// Shows every row of a chunk; a finding where it cannot be read.
    pub fn each_row(
        &self,
        chunk: usize,
        columns: &Columns,
        name: &str,
        findings: &Findings,
        mut show: impl FnMut(&Row),
    ) {
        let (from, recent) = (self.chunks[chunk].from, Recent::default());
        match self.frame(chunk, None) {
            Ok(frame) => {
                each_record(&frame, |at, record| {
                    show(&columns.row((from + at) as u32 + 2, record, &recent, findings));
                });
            }
            Err(refused) => {
                let (message, help) = refused.words(name);
                findings.report(&code::TABLE_DAMAGED, columns.span(), message, help);
            }
        }
    }
}

/// Why a file was not read.
enum Refused {
    Damaged,
    TooLong,
    Column(String),
}

impl Refused {
    fn words(self, name: &str) -> (String, &'static str) {
        match self {
            Refused::Damaged => (
                format!("{name} is no Parquet file, or a damaged one"),
                "write it again, or save the table as CSV",
            ),
            Refused::TooLong => {
                (format!("{name} has more than {MOST_ROWS} rows"), "keep the rows of this study only")
            }
            Refused::Column(column) => (
                format!("column `{column}` of {name} holds neither texts nor numbers nor local times"),
                "store its values as texts; a time as 2027-03-09 22:40",
            ),
        }
    }
}

/// Damaged files make the Parquet reader panic at its own assertions: that is caught here, and told in our own words.
fn unbroken<T>(read: impl Fn() -> Result<T, Refused>) -> Result<T, Refused> {
    crate::read::unbroken(read).unwrap_or(Err(Refused::Damaged))
}

fn frame(bytes: &[u8]) -> Result<DataFrame, Refused> {
    let damaged = |_| Refused::Damaged;
    let mut reader = ParquetReader::new(Cursor::new(bytes.to_vec()));
    if reader.num_rows().map_err(damaged)? > MOST_ROWS {
        return Err(Refused::TooLong);
    }
    plain_names(&mut reader)?;
    reader.finish().map_err(damaged)
}

/// The names of the columns, all of which hold texts, numbers or local times.
fn plain_names<R: MmapBytesReader>(reader: &mut ParquetReader<R>) -> Result<Vec<String>, Refused> {
    let schema = reader.schema().map_err(|_| Refused::Damaged)?;
    match schema.iter_values().find(|field| !is_plain(&field.dtype)) {
        Some(field) => Err(Refused::Column(field.name.to_string())),
        None => Ok(schema.iter_values().map(|field| field.name.to_string()).collect()),
    }
}

/// Whether values of a type are texts, numbers or local times; a time in a zone could be meant for another clock.
fn is_plain(kind: &ArrowDataType) -> bool {
    use ArrowDataType as A;
    matches!(
        kind,
        A::Null
            | A::Boolean
            | A::Int32
            | A::Int64
            | A::UInt32
            | A::UInt64
            | A::Float32
            | A::Float64
            | A::Utf8
            | A::LargeUtf8
            | A::Utf8View
            | A::Date32
            | A::Timestamp(_, None)
    )
}

/// The header as row 1, and the rows below it.
fn rows(frame: &DataFrame) -> Vec<(u32, StringRecord)> {
    let header: StringRecord = frame.get_column_names().iter().map(|name| name.as_str()).collect();
    let mut rows = vec![(1, header)];
    each_record(frame, |at, record| rows.push((at as u32 + 2, record.clone())));
    rows
}

/// Shows the rows that are not blank, each with its number from 0.
fn each_record(frame: &DataFrame, mut show: impl FnMut(usize, &StringRecord)) {
    let mut columns: Vec<Cells> = frame.columns().iter().map(Cells::of).collect();
    let (mut record, mut written) = (StringRecord::new(), String::new());
    for at in 0..frame.height() {
        record.clear();
        columns.iter_mut().for_each(|cells| cells.push(at, &mut record, &mut written));
        if !is_blank(&record) {
            show(at, &record);
        }
    }
}

/// The cells of a column, from the first on; those that most columns hold come without a look at their kind.
enum Cells<'a> {
    Texts(Box<dyn Iterator<Item = Option<&'a str>> + 'a>),
    Reals(Box<dyn Iterator<Item = Option<f64>> + 'a>),
    Wholes(Box<dyn Iterator<Item = Option<i64>> + 'a>),
    Others(&'a Column),
}

impl<'a> Cells<'a> {
    fn of(column: &'a Column) -> Cells<'a> {
        match (column.str(), column.f64(), column.i64()) {
            (Ok(texts), ..) => Cells::Texts(Box::new(texts.iter())),
            (_, Ok(reals), _) => Cells::Reals(Box::new(reals.iter())),
            (.., Ok(wholes)) => Cells::Wholes(Box::new(wholes.iter())),
            _ => Cells::Others(column),
        }
    }

    /// Adds the next cell, in row `at`, to a record; it is `written` on the way where it is no text.
    fn push(&mut self, at: usize, record: &mut StringRecord, written: &mut String) {
        let value = match self {
            Cells::Texts(texts) => return record.push_field(texts.next().flatten().unwrap_or_default()),
            Cells::Reals(reals) => reals.next().flatten().map(AnyValue::Float64),
            Cells::Wholes(wholes) => wholes.next().flatten().map(AnyValue::Int64),
            Cells::Others(column) => column.get(at).ok(),
        };
        written.clear();
        // Writing to a text cannot fail.
        let _ = write(&value.unwrap_or(AnyValue::Null), written);
        record.push_field(written);
    }
}

/// Writes a value as a user would.
fn write(value: &AnyValue<'_>, text: &mut String) -> fmt::Result {
    match value {
        AnyValue::Null => Ok(()),
        AnyValue::String(own) => text.write_str(own),
        AnyValue::Boolean(yes) => write!(text, "{yes}"),
        AnyValue::Float32(x) => write!(text, "{x}"),
        AnyValue::Float64(x) => write!(text, "{x}"),
        AnyValue::Int64(n) => write!(text, "{n}"),
        AnyValue::Date(days) => day(*days).map_or(Ok(()), |day| write!(text, "{day}")),
        AnyValue::Datetime(count, unit, None) => {
            moment(*count, *unit).map_or(Ok(()), |moment| write_moment(moment, text))
        }
        other => other.extract::<i128>().map_or(Ok(()), |n| write!(text, "{n}")),
    }
}

fn day(days: i32) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(1970, 1, 1)?.checked_add_signed(Duration::days(days.into()))
}

fn moment(count: i64, unit: TimeUnit) -> Option<NaiveDateTime> {
    let micros = match unit {
        TimeUnit::Nanoseconds => count / 1000,
        TimeUnit::Microseconds => count,
        TimeUnit::Milliseconds => count.checked_mul(1000)?,
    };
    Some(DateTime::from_timestamp_micros(micros)?.naive_utc())
}

/// Seconds only where there are any.
fn write_moment(moment: NaiveDateTime, text: &mut String) -> fmt::Result {
    write!(text, "{} {:02}:{:02}", moment.date(), moment.hour(), moment.minute())?;
    if moment.second() > 0 { write!(text, ":{:02}", moment.second()) } else { Ok(()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use polars::prelude::{NamedFrom, ParquetWriter, Series};

    /// 2027-03-09 is day 20886 since 1970: 57 years with 14 leap days make 20,819 days, January and February 59, and 8 days of March.
    #[test]
    fn days_and_moments_come_as_a_user_would_write_them() {
        let written = |value| {
            let mut text = String::new();
            write(&value, &mut text).unwrap();
            text
        };
        assert_eq!(written(AnyValue::Date(20_819 + 59 + 8)), "2027-03-09");
        let seconds = 20_886 * 86_400 + 22 * 3_600 + 40 * 60;
        let shown = |count, unit| written(AnyValue::Datetime(count, unit, None));
        assert_eq!(shown(seconds * 1_000, TimeUnit::Milliseconds), "2027-03-09 22:40");
        assert_eq!(shown((seconds + 5) * 1_000_000, TimeUnit::Microseconds), "2027-03-09 22:40:05");
    }

    #[test]
    fn texts_and_numbers_come_as_they_are_written() {
        let columns: Vec<Column> = vec![
            Series::new("id".into(), ["R1", "R2"]).into(),
            Series::new("strokes".into(), [1i64, 2]).into(),
            Series::new("reading".into(), [Some(12.5), None]).into(),
        ];
        let mut written = DataFrame::new(2, columns).unwrap();
        let mut bytes = Vec::new();
        ParquetWriter::new(&mut bytes).finish(&mut written).unwrap();
        let Ok(read) = frame(&bytes) else { panic!("it cannot be read back") };
        let rows: Vec<Vec<String>> =
            rows(&read).iter().map(|(_, row)| row.iter().map(str::to_owned).collect()).collect();
        assert_eq!(rows, [["id", "strokes", "reading"], ["R1", "1", "12.5"], ["R2", "2", ""]]);
        assert!(matches!(frame(&bytes[..40]), Err(Refused::Damaged)));
    }
}
