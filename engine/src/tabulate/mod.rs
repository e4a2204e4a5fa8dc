//! The tables of an assessment, for a spreadsheet or another program: full precision, one row a thing.

mod columns;
mod field_quality;
mod groups;
mod mixtures;
mod plan;
mod plan_sheets;
mod readings;
mod shifts;

pub use plan_sheets::sheets as plan_sheets;

use crate::model::Assessment;
use crate::model::plan::Plan;
use polars::prelude::{CsvWriter, DataFrame, PolarsResult, SerWriter};

/// A table of an assessment as a file's bytes.
#[derive(Debug)]
pub struct TableFile {
    /// File name, as `shifts.csv`.
    pub name: &'static str,
    /// CSV, UTF-8.
    pub bytes: Vec<u8>,
}

/// The tables; that of mixtures only where the study has any.
pub fn all(assessment: &Assessment) -> PolarsResult<Vec<TableFile>> {
    let mut tables = vec![
        csv("readings.csv", readings::table(&assessment.readings)?)?,
        csv("shifts.csv", shifts::table(&assessment.shifts)?)?,
        csv("groups.csv", groups::table(&assessment.groups)?)?,
        csv("field_quality.csv", field_quality::table(&assessment.field_quality)?)?,
    ];
    if !assessment.mixtures.is_empty() {
        tables.push(csv("mixtures.csv", mixtures::table(&assessment.mixtures)?)?);
    }
    Ok(tables)
}

/// The tables of a plan.
pub fn of_plan(made: &Plan) -> PolarsResult<Vec<TableFile>> {
    Ok(vec![
        csv("workers.csv", plan::workers(made)?)?,
        csv("times.csv", plan::times(made)?)?,
        csv("tubes.csv", plan::tubes(made)?)?,
        csv("chances.csv", plan::chances(made)?)?,
    ])
}

fn csv(name: &'static str, mut table: DataFrame) -> PolarsResult<TableFile> {
    let mut bytes = Vec::new();
    CsvWriter::new(&mut bytes).finish(&mut table)?;
    Ok(TableFile { name, bytes })
}
