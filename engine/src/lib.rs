//! From detector-tube readings to defensible exposure figures: the whole story on one page.
//!
//! ```text
//! read -> check -> correct -> combine -> summarise -> judge -> present
//! ```
//!
//! Each step is a folder with one public function; none calls another; nothing flows back. The result is one value,
//! [`model::Assessment`]; everything printed anywhere is a view of it.

pub mod diagnose;
pub mod model;

use diagnose::Report;
use model::Assessment;
use std::path::Path;

/// A study that could be read, with what was found in it.
#[derive(Debug)]
pub struct Checked {
    /// Everything found, errors first.
    pub findings: Vec<Report>,
    /// Whether an error among them keeps the study from being assessed.
    pub stopped: bool,
    /// What was read, in words, as `12 readings`, in the order of the files.
    pub contents: Vec<String>,
}

/// A study that cannot be assessed; at least one finding is an error.
#[derive(Debug)]
pub struct Stopped {
    /// Everything found, errors first.
    pub findings: Vec<Report>,
}

/// A table of an assessment as a file's bytes.
#[derive(Debug)]
pub struct TableFile {
    /// File name, as `shifts.csv`.
    pub name: &'static str,
    /// CSV, UTF-8.
    pub bytes: Vec<u8>,
}

/// Reads and checks the study in folder `study` (or at a path to its `study.yaml`).
pub fn check(study: &Path) -> Checked {
    let _ = study;
    Checked { findings: Vec::new(), stopped: false, contents: Vec::new() }
}

/// The main job: reads, checks and assesses the study.
pub fn assess(study: &Path) -> Result<Assessment, Stopped> {
    let _ = study;
    Err(Stopped { findings: Vec::new() })
}

/// The tables `readings.csv`, `shifts.csv` and `groups.csv` of an assessment, at full precision.
pub fn tables(assessment: &Assessment) -> Result<Vec<TableFile>, String> {
    let _ = assessment;
    Err(String::new())
}

/// A converted concentration with its working.
#[derive(Debug)]
pub struct Conversion {
    /// The result.
    pub figure: model::Figure,
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
    let _ = (amount, to, molar_mass, temperature, pressure, molar_volume);
    Err(String::new())
}
