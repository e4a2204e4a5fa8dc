//! Tables that grow as an archive is walked, and the files they are written to.

use super::{groups_in_short, shifts};
use crate::model::Overview;
use crate::model::assessment::ShiftResult;
use polars::io::csv::write::BatchedWriter as CsvBatches;
use polars::io::parquet::write::BatchedWriter as ParquetBatches;
use polars::prelude::{CsvWriter, DataFrame, ParquetWriter, PolarsResult, SerWriter};
use std::io::Write;

/// How tables are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableFormat {
    /// Text, UTF-8.
    Csv,
    /// Columns, packed.
    Parquet,
}

impl TableFormat {
    /// The ending of a file.
    pub fn ending(self) -> &'static str {
        match self {
            TableFormat::Csv => "csv",
            TableFormat::Parquet => "parquet",
        }
    }
}

/// A file that is being written.
pub type Target = Box<dyn Write + Send + Sync>;

/// Where the tables of an archive are kept.
pub struct Keep<'a> {
    /// How they are written.
    pub format: TableFormat,
    /// Opens a file by its name.
    pub open: &'a dyn Fn(&str) -> std::io::Result<Target>,
}

impl Keep<'_> {
    fn target(&self, table: &str) -> Result<Target, String> {
        (self.open)(&format!("{table}.{}", self.format.ending())).map_err(|error| error.to_string())
    }

    /// Writes the table of groups.
    pub fn groups(&self, overview: &Overview) -> Result<(), String> {
        let mut grown = Growing::new(self.target("groups")?, self.format);
        groups_in_short::table(&overview.groups)
            .and_then(|table| grown.add(table))
            .and_then(|()| grown.finish())
            .map_err(|error| error.to_string())
    }
}

/// The table of shifts, group after group.
pub struct ShiftTable {
    grown: Result<Growing, String>,
    shift_test: bool,
}

impl ShiftTable {
    /// An empty table; `shift_test` where the study asks for the test of single shifts.
    pub fn new(keep: &Keep, shift_test: bool) -> ShiftTable {
        ShiftTable {
            grown: keep.target("shifts").map(|target| Growing::new(target, keep.format)),
            shift_test,
        }
    }

    /// Adds the shifts of a group; the error says what the table writer complained of.
    pub fn add(&mut self, rows: &[ShiftResult]) -> Result<(), String> {
        let grown = self.grown.as_mut().map_err(|words| words.clone())?;
        match rows.is_empty() {
            true => Ok(()),
            false => shifts::table(rows, self.shift_test)
                .and_then(|table| grown.add(table))
                .map_err(|error| error.to_string()),
        }
    }

    /// Writes what is left.
    pub fn finish(self) -> Result<(), String> {
        self.grown?.finish().map_err(|error| error.to_string())
    }
}

/// A table that is written batch by batch; rows are gathered so that batches are neither many nor large.
struct Growing {
    writer: Writer,
    gathered: Option<DataFrame>,
}

enum Writer {
    Waiting(Target, TableFormat),
    Csv(CsvBatches<Target>),
    Parquet(Box<ParquetBatches<Target>>),
    Done,
}

/// Rows from which on a batch is written.
const BATCH: usize = 100_000;

impl Growing {
    fn new(target: Target, format: TableFormat) -> Growing {
        Growing { writer: Writer::Waiting(target, format), gathered: None }
    }

    fn add(&mut self, table: DataFrame) -> PolarsResult<()> {
        match &mut self.gathered {
            Some(gathered) => drop(gathered.vstack_mut(&table)?),
            None => self.gathered = Some(table),
        }
        match &self.gathered {
            Some(gathered) if gathered.height() >= BATCH => self.write(),
            _ => Ok(()),
        }
    }

    fn write(&mut self) -> PolarsResult<()> {
        let Some(mut table) = self.gathered.take() else { return Ok(()) };
        table.align_chunks();
        let schema = table.schema().clone();
        self.writer = match std::mem::replace(&mut self.writer, Writer::Done) {
            Writer::Waiting(target, TableFormat::Csv) => {
                Writer::Csv(CsvWriter::new(target).batched(&schema)?)
            }
            Writer::Waiting(target, TableFormat::Parquet) => {
                Writer::Parquet(Box::new(ParquetWriter::new(target).batched(&schema)?))
            }
            begun => begun,
        };
        match &mut self.writer {
            Writer::Csv(writer) => writer.write_batch(&table),
            Writer::Parquet(writer) => writer.write_batch(&table),
            Writer::Waiting(..) | Writer::Done => Ok(()),
        }
    }

    fn finish(mut self) -> PolarsResult<()> {
        self.write()?;
        match self.writer {
            Writer::Csv(mut writer) => writer.finish(),
            Writer::Parquet(writer) => writer.finish().map(drop),
            Writer::Waiting(..) | Writer::Done => Ok(()),
        }
    }
}
