//! The tables of an assessment, for a spreadsheet or another program: full precision, one row a thing.

mod columns;
mod field_quality;
mod groups;
mod groups_in_short;
mod growing;
mod mixtures;
mod plan;
mod plan_sheets;
mod readings;
mod shifts;

pub use growing::{Keep, ShiftTable, TableFormat, Target};
pub use plan_sheets::sheets as plan_sheets;

use crate::model::Assessment;
use crate::model::plan::Plan;
use polars::prelude::{CsvWriter, DataFrame, ParquetWriter, PolarsResult, SerWriter};

/// A table of an assessment as a file's bytes.
#[derive(Debug)]
pub struct TableFile {
    /// File name, as `shifts.csv`.
    pub name: String,
    /// CSV in UTF-8, or Parquet.
    pub bytes: Vec<u8>,
}

/// The tables; that of mixtures only where the study has any.
pub fn all(assessment: &Assessment, format: TableFormat) -> PolarsResult<Vec<TableFile>> {
    let file = |name, table| file(name, table, format);
    let mut tables = vec![
        file("readings", readings::table(&assessment.readings)?)?,
        file("shifts", shifts::table(&assessment.shifts, shifts::has_shift_test(&assessment.shifts))?)?,
        file("groups", groups::table(&assessment.groups)?)?,
        file("field_quality", field_quality::table(&assessment.field_quality)?)?,
    ];
    if !assessment.mixtures.is_empty() {
        tables.push(file("mixtures", mixtures::table(&assessment.mixtures)?)?);
    }
    Ok(tables)
}

/// The tables of a plan.
pub fn of_plan(made: &Plan) -> PolarsResult<Vec<TableFile>> {
    Ok(vec![
        file("workers", plan::workers(made)?, TableFormat::Csv)?,
        file("times", plan::times(made)?, TableFormat::Csv)?,
        file("tubes", plan::tubes(made)?, TableFormat::Csv)?,
        file("chances", plan::chances(made)?, TableFormat::Csv)?,
    ])
}

fn file(name: &str, mut table: DataFrame, format: TableFormat) -> PolarsResult<TableFile> {
    let mut bytes = Vec::new();
    match format {
        TableFormat::Csv => CsvWriter::new(&mut bytes).finish(&mut table)?,
        TableFormat::Parquet => drop(ParquetWriter::new(&mut bytes).finish(&mut table)?),
    }
    Ok(TableFile { name: format!("{name}.{}", format.ending()), bytes })
}
