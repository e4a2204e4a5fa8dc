//! The one error type of the command line: the words that reach the user, and the exit code.

use crate::border::Border;
use std::io::{Error, ErrorKind};

/// Why a command did not do what was asked.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The study has errors; they have been told already.
    Study,
    /// The command line asks for something that cannot be.
    Command {
        /// What is wrong.
        words: String,
        /// What would be right.
        remedy: String,
    },
    /// The command line is wrong, and the user has been told how.
    CommandTold,
    /// The machine failed: disk, permission.
    Machine {
        /// What is wrong.
        words: String,
        /// What to do about it.
        remedy: String,
    },
    /// Whoever read the output has stopped reading; nobody is to be told.
    ReaderGone,
}

impl Failure {
    /// A command line that asks for something that cannot be.
    pub(crate) fn command(words: impl Into<String>, remedy: impl Into<String>) -> Self {
        Failure::Command { words: words.into(), remedy: remedy.into() }
    }

    /// A failure of the machine; `what` could not be done.
    pub(crate) fn machine(what: &str, error: &Error) -> Self {
        Failure::Machine { words: format!("{what}: {}", reason(error)), remedy: remedy(error).to_owned() }
    }

    /// A result that could not be printed.
    pub(crate) fn output(error: &Error) -> Self {
        Failure::Machine {
            words: format!("the result could not be printed: {}", reason(error)),
            remedy: "Send the output to another place and run the command again.".to_owned(),
        }
    }

    /// The exit code of the process.
    pub(crate) fn code(&self) -> u8 {
        match self {
            Failure::ReaderGone => 0,
            Failure::Study => 1,
            Failure::Command { .. } | Failure::CommandTold => 2,
            Failure::Machine { .. } => 3,
        }
    }

    /// Tells the user.
    pub(crate) fn tell(&self, border: &mut Border<'_>) {
        match self {
            Failure::Study | Failure::CommandTold | Failure::ReaderGone => {}
            Failure::Command { words, remedy } | Failure::Machine { words, remedy } => {
                border.say(&format!("fullshift: {words}\n"));
                for line in remedy.lines() {
                    border.say(&format!("    {line}\n"));
                }
            }
        }
    }
}

/// The system's reason in words that do not depend on the system.
fn reason(error: &Error) -> String {
    match error.kind() {
        ErrorKind::PermissionDenied => "permission denied".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the file system is read-only".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "the disk quota is used up".to_owned(),
        ErrorKind::NotADirectory => "a file stands where a folder is needed".to_owned(),
        ErrorKind::IsADirectory => "a folder stands where the file belongs".to_owned(),
        ErrorKind::AlreadyExists => "it is there already".to_owned(),
        ErrorKind::FileTooLarge => "the file would be larger than the system allows".to_owned(),
        _ => error.to_string(),
    }
}

fn remedy(error: &Error) -> &'static str {
    match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            "Nothing was written. Choose a folder in which you may write, or change its permissions."
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "Nothing was written. Make room, or choose a folder on another disk."
        }
        ErrorKind::FileTooLarge => {
            "Nothing was written. Raise the limit on the size of files, or choose a disk that takes larger ones."
        }
        ErrorKind::NotADirectory | ErrorKind::IsADirectory | ErrorKind::AlreadyExists => {
            "Nothing was written. Choose another name."
        }
        _ => "Nothing was written. Put this right and run the command again.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_failure_has_its_exit_code() {
        let disk = Failure::machine("the file", &Error::from(ErrorKind::StorageFull));
        let codes = [Failure::ReaderGone, Failure::Study, Failure::command("", ""), disk].map(|f| f.code());
        assert_eq!(codes, [0, 1, 2, 3]);
    }

    #[test]
    fn a_full_disk_is_told_with_what_to_do() {
        let (mut out, mut talk) = (Vec::new(), Vec::new());
        let failure = Failure::machine("cannot write out/a.csv", &Error::from(ErrorKind::StorageFull));
        failure.tell(&mut Border::captured(&mut out, &mut talk));
        let told = String::from_utf8(talk).unwrap();
        assert!(told.starts_with("fullshift: cannot write out/a.csv: the disk is full\n"), "{told}");
        assert!(told.contains("Make room"), "{told}");
        assert!(out.is_empty());
    }
}
