//! Step 2, check: what a careful colleague would notice, and the shifts that the diary tells.

mod declarations;
mod field;
mod placement;
mod roster;

use crate::diagnose::{Findings, Stop};
use crate::model::{Study, shift::Shift};

/// Checks a study and gives its shifts, each with its readings in place; `Stop` where an error was found, here or
/// before.
pub fn study(study: &Study, rules: &[&'static str], findings: &Findings) -> Result<Vec<Shift>, Stop> {
    declarations::check(study, rules, findings);
    let mut shifts = roster::shifts(study, findings);
    placement::place(study, &mut shifts, findings);
    field::check(study, findings);
    findings.stop()?;
    placement::report_empty(study, &shifts, findings);
    Ok(shifts)
}
