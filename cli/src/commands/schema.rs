//! `schema` and `completions`: what an editor and a shell need to complete what is typed.

use super::json;
use crate::arguments::{Completions, completions};
use crate::border::Border;
use crate::failure::Failure;

/// Prints the schema of `study.yaml`.
pub(super) fn run(border: &mut Border<'_>) -> Result<(), Failure> {
    border.print(&text()?)
}

/// The schema of `study.yaml` as it is laid beside a new study.
pub(super) fn text() -> Result<String, Failure> {
    json(&fullshift_engine::schema())
}

/// Prints the completion lines of a shell.
pub(super) fn complete(typed: &Completions, border: &mut Border<'_>) -> Result<(), Failure> {
    border.print(&completions(typed.shell))
}
