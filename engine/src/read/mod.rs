//! Step 1, read: files into a typed [`Study`] whose every field keeps its place.
//!
//! The only step that opens files; nobody else knows YAML, CSV, workbooks or Parquet.

mod conversion;
mod fields;
mod form;
mod logo;
mod number;
mod quantity;
mod sources;
mod stain;
mod study_file;
mod table;
mod tables;
mod workbook;
mod yaml;

pub use conversion::{Asked, conversion};
pub use fields::schema;
pub use form::{FormKind, form};
pub use sources::Sources;
pub use yaml::values;

use crate::diagnose::{Findings, Stop};
use crate::model::Study;
use std::path::Path;

/// Reads the study in a folder, or at a path to its `study.yaml`; `Stop` where no study can be made of it. Errors in
/// parts of it leave the rest readable, so that the check step can go on.
pub fn study(path: &Path, sources: &mut Sources, findings: &Findings) -> Result<Study, Stop> {
    let study = readable(path, sources, findings);
    match study {
        Some(study) => Ok(study),
        None => Err(findings.must_stop()),
    }
}

/// The settings of a study with their places, from `study.yaml` or from the sheets of a workbook.
fn document(path: &Path, sources: &mut Sources, findings: &Findings) -> Option<yaml::Document> {
    let file = sources.open_study(path, findings)?;
    match workbook::is_workbook(sources.name(file)) {
        true => workbook::study::document(file, sources, findings),
        false => yaml::Document::read(file, sources, findings),
    }
}

fn readable(path: &Path, sources: &mut Sources, findings: &Findings) -> Option<Study> {
    let document = document(path, sources, findings)?;
    let (mut study, files) = study_file::study(&document, findings)?;
    if let Some((name, span)) = &files.logo {
        study.report.logo = logo::logo(name, *span, sources, findings);
    }
    tables::read_all(&files, &mut study, sources, findings);
    Some(study)
}
