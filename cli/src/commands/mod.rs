//! One file a command. Each takes what was typed and the border, and gives nothing or a failure.

mod assess;
mod check;
mod compare;
mod convert;
mod explain;
mod plan;
mod report;
mod result;
mod schema;
mod sheet;
mod start;
mod trace;
mod verify;

use crate::arguments::Command;
use crate::border::Border;
use crate::failure::Failure;

/// Runs a command.
pub(crate) fn run(command: Command, border: &mut Border<'_>) -> Result<(), Failure> {
    match command {
        Command::Start(typed) => start::run(&typed, border),
        Command::Check(typed) => check::run(&typed, border),
        Command::Explain(typed) => explain::run(&typed, border),
        Command::Assess(typed) => assess::run(&typed, border),
        Command::Report(typed) => report::run(&typed, border),
        Command::Trace(typed) => trace::run(&typed, border),
        Command::Plan(typed) => plan::run(&typed, border),
        Command::Compare(typed) => compare::run(&typed, border),
        Command::Convert(typed) => convert::run(&typed, border),
        Command::Sheet(typed) => sheet::run(&typed, border),
        Command::Schema => schema::run(border),
        Command::Completions(typed) => schema::complete(&typed, border),
        Command::Verify(typed) => verify::run(&typed, border),
    }
}

/// A group that a study does not have, beside those that it has.
fn no_such_group(group: &str, groups: &[String]) -> Failure {
    Failure::command(
        format!("there is no group `{group}` in this study"),
        format!("Its groups are: {}.", groups.join(", ")),
    )
}

/// Whether a study has the group that was named, where one was.
fn has_group(named: Option<&str>, groups: &[String]) -> Result<(), Failure> {
    match named.filter(|named| !groups.iter().any(|group| group == named)) {
        Some(strange) => Err(no_such_group(strange, groups)),
        None => Ok(()),
    }
}

/// A value as JSON that ends with a line break.
fn json(value: &impl serde::Serialize) -> Result<String, Failure> {
    serde_json::to_string_pretty(value)
        .map(|text| text + "\n")
        .map_err(|error| Failure::machine("the result could not be written as JSON", &error.into()))
}
