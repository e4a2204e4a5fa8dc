//! The rules about the field work: how a tube was drawn and read, with what pump, when and how often.

mod blanks;
mod cover;
mod duplicates;
mod leaks;
mod pumps;
mod purposes;
mod readings;
mod substances;
mod times;

use super::notebook::Notebook;
use crate::model::shift::Shift;
use crate::model::{LeakCheckCount, Study};

/// Raises what qualifies readings, and counts the leak checks that they needed.
pub fn check(study: &Study, notebook: &mut Notebook) -> LeakCheckCount {
    readings::check(study, notebook);
    substances::check(study, notebook);
    pumps::check(study, notebook);
    purposes::check(study, notebook);
    blanks::check(study, notebook);
    duplicates::check(study, notebook);
    leaks::check(study, notebook)
}

/// Raises what is too little or too regular about the readings of each shift.
pub fn check_cover(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    times::check(study, shifts, notebook);
    cover::check(study, shifts, notebook);
}
