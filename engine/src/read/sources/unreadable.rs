//! Why a file could not be opened, in words and with a remedy.

use crate::diagnose::{Code, code};
use std::io::ErrorKind;
use std::path::Path;

/// The code, the message and the remedy for a file called `name` at `path`.
pub fn unreadable(name: &str, path: &Path, error: &std::io::Error) -> (&'static Code, String, &'static str) {
    match error.kind() {
        ErrorKind::NotFound => (
            &code::FILE_MISSING,
            format!("{name} is not there"),
            "check the name, or put the file beside study.yaml",
        ),
        _ if path.is_dir() => {
            (&code::FILE_UNREADABLE, format!("{name} is a folder, not a file"), "name the file itself")
        }
        ErrorKind::PermissionDenied => (
            &code::FILE_UNREADABLE,
            format!("{name} may not be read by you"),
            "give yourself the right to read it, or copy it to a folder of your own",
        ),
        _ => (
            &code::FILE_UNREADABLE,
            format!("{name} cannot be read: {error}"),
            "check that the disk is in order",
        ),
    }
}
