//! Step 1, read: files into a typed [`Study`] whose every field keeps its place.
//!
//! The only step that opens files; nobody else knows YAML, CSV, workbooks or Parquet.

mod archive;
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
mod unbroken;
mod workbook;
mod yaml;

pub use archive::Archive;
pub use conversion::{Asked, conversion};
pub use fields::schema;
pub use form::{FormKind, form};
pub use sources::Sources;
pub use yaml::values;

use crate::diagnose::{Findings, Stop, code, nearest};
use crate::model::Study;
use std::path::Path;
use unbroken::unbroken;

/// A study as it can be read.
pub enum Opened {
    /// With all its rows.
    Whole(Box<Study>),
    /// Its tables are too long to be kept.
    Archive(Box<Archive>),
}

/// Reads the study in a folder, or at a path to its `study.yaml`; `Stop` where no study can be made of it. Errors in
/// parts of it leave the rest readable, so that the check step can go on.
pub fn open(path: &Path, sources: &mut Sources, findings: &Findings) -> Result<Opened, Stop> {
    readable(path, sources, findings).ok_or_else(|| findings.must_stop())
}

impl Opened {
    /// The study for a step that wants all rows at once: of an archive the rows of the group called `group`.
    pub fn study(self, group: Option<&str>, findings: &Findings) -> Result<Study, Stop> {
        let archive = match self {
            Opened::Whole(study) => return Ok(*study),
            Opened::Archive(archive) => archive,
        };
        let groups = &archive.declared().groups;
        let Some(found) = group.and_then(|name| groups.find(name)) else {
            let names: Vec<&str> = groups.names().collect();
            let (message, help) = match group {
                None => (
                    format!("this is an archive of {} groups; one of them can be shown here", names.len()),
                    format!("name it, as --group {}", names.first().unwrap_or(&"G1")),
                ),
                Some(name) => {
                    (format!("no group called `{name}` is declared"), nearest(name, names.into_iter()))
                }
            };
            findings.report(&code::ARCHIVE_WITHOUT_GROUP, archive.span(), message, help);
            return Err(findings.must_stop());
        };
        let mut studies = archive.studies(&archive.portion_of(found), findings);
        archive.report_duplicates(findings);
        let study =
            studies.pop().map(|(_, study)| Study { report: archive.declared().report.clone(), ..study });
        study.ok_or_else(|| findings.must_stop())
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

fn readable(path: &Path, sources: &mut Sources, findings: &Findings) -> Option<Opened> {
    let document = document(path, sources, findings)?;
    let (mut study, files) = study_file::study(&document, findings)?;
    if let Some((name, span)) = &files.logo {
        study.report.logo = logo::logo(name, *span, sources, findings);
    }
    let long =
        [&files.readings, &files.diary].into_iter().flatten().any(|table| sources.is_long(&table.name));
    if long {
        return Archive::open(study, &files, sources, findings)
            .map(|archive| Opened::Archive(Box::new(archive)));
    }
    tables::read_all(&files, &mut study, sources, findings);
    Some(Opened::Whole(Box::new(study)))
}
