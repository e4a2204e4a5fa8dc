//! The smaller jobs beside an assessment: its tables, forms to be filled in, what a study may hold, a conversion.

use crate::diagnose::Findings;
use crate::model::plan::Plan;
use crate::model::{Assessment, Figure, Form, FormSheet};
use crate::read::{FormKind, Sources};
use crate::tabulate::{TableFile, TableFormat};
use crate::{Stopped, correct, read, tabulate};
use std::path::Path;

/// The tables of an assessment (`readings.csv`, `shifts.csv` and so on), at full precision. The error says what the table
/// writer complained of.
pub fn tables(assessment: &Assessment) -> Result<Vec<TableFile>, String> {
    tabulate::all(assessment, TableFormat::Csv).map_err(|error| error.to_string())
}

/// The same as Parquet.
pub fn packed_tables(assessment: &Assessment) -> Result<Vec<TableFile>, String> {
    tabulate::all(assessment, TableFormat::Parquet).map_err(|error| error.to_string())
}

/// The tables `workers.csv`, `times.csv`, `tubes.csv` and `chances.csv` of a plan, at full precision. The error says what
/// the table writer complained of.
pub fn plan_tables(plan: &Plan) -> Result<Vec<TableFile>, String> {
    tabulate::of_plan(plan).map_err(|error| error.to_string())
}

/// The pages of a plan for a field workbook: whom to sample, when, and with which tubes. The error says what the table writer
/// complained of.
pub fn plan_sheets(plan: &Plan) -> Result<Vec<FormSheet>, String> {
    tabulate::plan_sheets(&plan_tables(plan)?).map_err(|error| error.to_string())
}

/// The workbook of a study to be filled in, or of the whole study; tables that are still empty or missing do no harm.
pub fn form(study: &Path, kind: FormKind) -> Result<Form, Stopped> {
    let (mut sources, findings) = (Sources::default(), Findings::default());
    read::form(study, kind, &mut sources, &findings)
        .map_err(|_| Stopped { findings: sources.reports(findings) })
}

/// The values of a YAML text as JSON, for a validator that takes a schema; `None` where it is no YAML.
pub fn values(yaml: &str) -> Option<serde_json::Value> {
    read::values(yaml)
}

/// The JSON Schema of `study.yaml`.
pub fn schema() -> serde_json::Value {
    read::schema()
}

/// A converted concentration with its working.
#[derive(Debug)]
pub struct Conversion {
    /// The result.
    pub figure: Figure,
    /// The conditions, in words.
    pub conditions: String,
}

/// Converts a quantity text as `25 ppm` to another unit; every argument is a quantity text as the study file has them.
/// `molar_volume` (as `24.45 L/mol`) takes the place of the gas law. The error says what is wrong and what would do.
pub fn convert(
    amount: &str,
    to: &str,
    molar_mass: Option<f64>,
    temperature: &str,
    pressure: &str,
    molar_volume: Option<&str>,
) -> Result<Conversion, String> {
    let asked = read::conversion(amount, to, temperature, pressure, molar_volume)?;
    let figure = correct::converted(&asked, molar_mass)?;
    Ok(Conversion { figure, conditions: correct::conversion_in_words(&asked.reference) })
}
