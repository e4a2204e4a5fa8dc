//! `sheet`: a workbook for the field, or the whole study as one.

use super::check;
use crate::arguments::Sheet;
use crate::border::Border;
use crate::deliver::deliver;
use crate::failure::Failure;
use crate::standing::{Existing, taken};
use crate::workbook::{Paper, bytes};
use fullshift_engine::FormKind;
use fullshift_engine::model::FormSheet;
use std::path::Path;

pub(super) fn run(typed: &Sheet, border: &mut Border<'_>) -> Result<(), Failure> {
    let kind = match (typed.whole, typed.filled) {
        (true, _) => FormKind::Whole,
        (_, true) => FormKind::Filled,
        _ => FormKind::Field,
    };
    write(&typed.study, kind, typed.paper, &typed.out, Vec::new(), border)?;
    let out = typed.out.display();
    let name =
        typed.out.file_name().map_or_else(|| out.to_string(), |name| name.to_string_lossy().into_owned());
    border.print(&match kind {
        FormKind::Whole => format!("Written: {out}\nIt is the whole study:\n  fullshift assess {out}\n"),
        _ => format!(
            "Written: {out}\nFilled in and laid beside study.yaml, it takes the place of the tables:\n  \
             tables: {{readings: {name}, diary: {name}, leak_checks: {name}}}\n"
        ),
    })
}

/// Makes the workbook of a study, with further pages behind its own, and writes it where no file is yet.
pub(super) fn write(
    study: &Path,
    kind: FormKind,
    paper: Paper,
    out: &Path,
    further: Vec<FormSheet>,
    border: &mut Border<'_>,
) -> Result<(), Failure> {
    let name =
        out.file_name().and_then(|name| name.to_str()).filter(|name| name.to_lowercase().ends_with(".xlsx"));
    let Some(name) = name else {
        let words = format!("{} is no name of a workbook", out.display());
        return Err(Failure::command(words, "End the name with .xlsx."));
    };
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if !taken(folder, std::iter::once(name)).is_empty() {
        let words = format!("{} is there already", out.display());
        return Err(Failure::command(
            words,
            "Nothing was written: what is filled in is not overwritten. Choose another name.",
        ));
    }
    let mut form = fullshift_engine::form(study, kind).map_err(|stopped| {
        check::tell_what_for(&stopped.findings, "nothing was written", border);
        Failure::Study
    })?;
    form.sheets.extend(further);
    deliver(folder, &[(name, bytes(&form, paper)?.as_slice())], Existing::Keep)
}
