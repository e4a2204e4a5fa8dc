//! The command line of Fullshift: every command is a view of what the engine found out.
//!
//! [`run`] takes the words of a command line and the [`border::Border`] to the machine, so that a whole command can run
//! inside a test with its output captured. Nothing here computes a figure.

mod arguments;
pub mod border;
mod commands;
mod deliver;
mod explanation;
mod failure;
mod figures;
mod finding;
mod language;
mod overview;
mod page;
mod planning;
mod report;
mod standing;
mod summary;
mod trail;
mod workbook;

use border::Border;
use std::ffi::OsString;

/// Runs one command line, the program's name first, and gives its exit code: 0 done, 1 the study has errors, 2 the
/// command line is wrong, 3 the machine failed.
///
/// ```
/// use fullshift::border::Border;
///
/// let (mut out, mut talk) = (Vec::new(), Vec::new());
/// let words = ["fullshift", "--version"];
/// assert_eq!(fullshift::run(words, &mut Border::captured(&mut out, &mut talk)), 0);
/// assert!(out.starts_with(b"fullshift "));
/// ```
pub fn run<W>(words: impl IntoIterator<Item = W>, border: &mut Border<'_>) -> u8
where
    W: Into<OsString> + Clone,
{
    let outcome = match arguments::read(words, border.width()) {
        Ok(command) => commands::run(command, border),
        Err(error) => arguments::answer(&error, border),
    };
    match outcome {
        Ok(()) => 0,
        Err(failure) => {
            failure.tell(border);
            failure.code()
        }
    }
}
