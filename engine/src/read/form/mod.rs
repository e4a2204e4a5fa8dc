//! A study as a workbook to be filled in: its field pages alone, or the whole of it.

mod pages;
mod parts;

use super::sources::Sources;
use super::table::Wanted;
use super::{document, study_file, tables};
use crate::diagnose::{Findings, Stop};
use crate::model::{Form, Study};
use std::path::Path;

/// Which workbook is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FormKind {
    /// The pages for the field, empty.
    Field,
    /// The pages for the field with what the tables of the study hold.
    Filled,
    /// The whole study.
    Whole,
}

/// Makes the workbook of a study, whose tables may still be empty or missing.
pub fn form(path: &Path, kind: FormKind, sources: &mut Sources, findings: &Findings) -> Result<Form, Stop> {
    let Some(document) = document(path, sources, findings) else { return Err(findings.must_stop()) };
    let Some((mut study, files)) = study_file::study(&document, findings) else {
        return Err(findings.must_stop());
    };
    findings.stop()?;
    // What is wrong in the tables is for `check` to say; here they only fill the sheets.
    let aside = Findings::default();
    tables::read_all(&files, &mut study, sources, &aside);
    let mut sheets = if kind == FormKind::Whole { parts::sheets(&document) } else { Vec::new() };
    let wanted: [(&str, &Option<Wanted>); 4] = [
        ("readings", &files.readings),
        ("diary", &files.diary),
        ("leak_checks", &files.leak_checks),
        ("workers", &files.workers),
    ];
    for (name, wanted) in wanted {
        let filled = kind != FormKind::Field;
        let grid = wanted
            .as_ref()
            .filter(|_| filled)
            .and_then(|w| Some((w, super::table::grid(w, sources, &aside)?)));
        match grid {
            Some((wanted, grid)) => sheets.push(pages::filled(name, wanted, &grid)),
            None if kind == FormKind::Whole && wanted.is_none() => {}
            None if name == "workers" => {}
            None => sheets.push(pages::blank(name)),
        }
    }
    Ok(Form { title: study.title.clone(), lists: lists(&study), sheets })
}

fn lists(study: &Study) -> Vec<(String, Vec<String>)> {
    fn names<T>(list: &crate::model::Named<T>) -> Vec<String> {
        list.names().map(str::to_owned).collect()
    }
    let all = [
        ("agents", names(&study.agents)),
        ("tubes", names(&study.tubes)),
        ("pumps", names(&study.pumps)),
        ("tasks", names(&study.tasks)),
        ("groups", names(&study.groups)),
        ("workers", names(&study.workers)),
    ];
    all.into_iter().map(|(setting, names)| (setting.to_owned(), names)).collect()
}
