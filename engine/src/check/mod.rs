//! Step 2, check: what a careful colleague would notice, and the shifts that the diary tells.

mod declarations;
mod field;
mod notebook;
mod placement;
mod roster;

use crate::diagnose::{Findings, Stop};
use crate::model::{FieldWork, Study, shift::Shift};
use notebook::Notebook;
pub use notebook::Telling;

/// Checks what a study declares.
pub fn declared(study: &Study, rules: &[&'static str], findings: &Findings) {
    declarations::check(study, rules, findings);
}

/// Checks the rows of a study and gives its shifts, each with its readings in place, and what the rules say of the field work;
/// `Stop` where an error was found, here or before.
pub fn rows(study: &Study, telling: Telling, findings: &Findings) -> Result<(Vec<Shift>, FieldWork), Stop> {
    let mut shifts = roster::shifts(study, findings);
    let mut notebook = Notebook::of(study, telling, findings);
    placement::place(study, &mut shifts, &mut notebook);
    let leak_checks = field::check(study, &mut notebook);
    if !findings.has_errors() {
        // What is too little or too regular can only be told of a study that was read whole.
        field::check_cover(study, &shifts, &mut notebook);
        placement::report_apart(study, &shifts, &mut notebook);
        placement::report_empty(study, &shifts, &mut notebook);
    }
    let remarks = notebook.close();
    findings.stop()?;
    Ok((shifts, FieldWork { remarks, leak_checks }))
}
