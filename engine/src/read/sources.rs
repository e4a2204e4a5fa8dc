//! The files of a study: opened once, kept for quoting, hashed for the record.

use super::table::fields;
use crate::diagnose::{FileId, Finding, Findings, Place, Report, Span, code};
use crate::model::assessment::InputFile;
use sha2::{Digest, Sha256};
use std::io::ErrorKind;
use std::path::{Component, Path, PathBuf};

/// Widest excerpt shown, in characters.
const EXCERPT_WIDTH: usize = 110;
/// Characters of context kept left of the place when a long line is cut.
const EXCERPT_CONTEXT: usize = 40;

/// The files opened so far.
#[derive(Debug, Default)]
pub struct Sources {
    folder: PathBuf,
    files: Vec<SourceFile>,
}

#[derive(Debug)]
struct SourceFile {
    name: String,
    bytes: Vec<u8>,
    /// Separator of its cells, where it is a table.
    separator: Option<u8>,
}

impl Sources {
    /// Opens the study file of a folder, or the file itself.
    pub fn open_study(&mut self, path: &Path, findings: &Findings) -> Option<FileId> {
        let (folder, name) = match path.is_dir() {
            true => (path.to_owned(), "study.yaml".to_owned()),
            false => (
                path.parent().unwrap_or(Path::new("")).to_owned(),
                path.file_name()
                    .map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned()),
            ),
        };
        self.folder = folder;
        self.open(&name, None, findings)
    }

    /// Opens a file of the study; `mentioned` is where the study names it.
    pub fn open(&mut self, name: &str, mentioned: Option<Span>, findings: &Findings) -> Option<FileId> {
        let id = FileId(self.files.len() as u16);
        if Path::new(name).components().any(|c| !matches!(c, Component::Normal(_) | Component::CurDir)) {
            findings.report(
                &code::FILE_UNREADABLE,
                mentioned.unwrap_or(Span::File(id)),
                format!("{name} lies outside the folder of the study"),
                "put the file beside study.yaml and give its name only",
            );
            return None;
        }
        match std::fs::read(self.folder.join(name)) {
            Ok(bytes) => {
                self.files.push(SourceFile { name: name.to_owned(), bytes, separator: None });
                Some(id)
            }
            Err(error) => {
                let (code, message, help) = unreadable(name, &self.folder.join(name), &error);
                if mentioned.is_none() {
                    self.files.push(SourceFile { name: name.to_owned(), bytes: Vec::new(), separator: None });
                }
                findings.report(code, mentioned.unwrap_or(Span::File(id)), message, help);
                None
            }
        }
    }

    /// The bytes of a file, without a byte-order mark.
    pub fn bytes(&self, file: FileId) -> &[u8] {
        let bytes = &self.files[file.0 as usize].bytes;
        bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes)
    }

    /// The text of a file; a finding where it is not UTF-8.
    pub fn text(&self, file: FileId, findings: &Findings) -> Option<&str> {
        match std::str::from_utf8(self.bytes(file)) {
            Ok(text) => Some(text),
            Err(error) => {
                self.report_encoding(file, error.valid_up_to(), findings);
                None
            }
        }
    }

    fn report_encoding(&self, file: FileId, at: usize, findings: &Findings) {
        let bytes = self.bytes(file);
        let name = self.name(file);
        let before = &bytes[..at];
        let line_start = before.iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
        let line = before.iter().filter(|&&b| b == b'\n').count() as u32 + 1;
        let column = String::from_utf8_lossy(&before[line_start..]).chars().count() as u32 + 1;
        let message = match bytes {
            [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..] => format!("{name} is in UTF-16, not UTF-8"),
            _ => format!("{name} is not in UTF-8: byte 0x{:02X} cannot stand here", bytes[at]),
        };
        findings.report(
            &code::NOT_UTF8,
            Span::Text { file, line, column, length: 1 },
            message,
            match name.ends_with(".yaml") {
                true => "save the file again as UTF-8; editors offer it under \"Save as\"",
                false => "save the file again as UTF-8; a spreadsheet calls it \"CSV UTF-8\"",
            },
        );
    }

    /// Remembers that a file is a table with this separator.
    pub fn set_separator(&mut self, file: FileId, separator: u8) {
        self.files[file.0 as usize].separator = Some(separator);
    }

    /// Name of a file relative to the study.
    pub fn name(&self, file: FileId) -> &str {
        self.files.get(file.0 as usize).map_or("study.yaml", |f| &f.name)
    }

    /// A place in words, as `readings.csv:14`.
    pub fn named(&self, span: Span) -> String {
        match span {
            Span::File(file) => self.name(file).to_owned(),
            Span::Text { file, line, .. } | Span::Cell { file, line, .. } => {
                format!("{}:{line}", self.name(file))
            }
        }
    }

    /// The files with their digests, for the record.
    pub fn inputs(&self) -> Vec<InputFile> {
        self.files
            .iter()
            .map(|f| InputFile {
                file: f.name.clone(),
                sha256: Sha256::digest(&f.bytes).iter().map(|b| format!("{b:02x}")).collect(),
            })
            .collect()
    }

    /// The findings as the user gets them: places resolved, lines quoted.
    pub fn reports(&self, findings: Findings) -> Vec<Report> {
        findings.into_sorted().into_iter().map(|f| self.resolve(f)).collect()
    }

    fn resolve(&self, finding: Finding) -> Report {
        Report {
            code: finding.code.id,
            name: finding.code.name,
            severity: finding.code.severity,
            message: finding.message,
            help: finding.help,
            places: finding.spans.into_iter().map(|s| self.place(s)).collect(),
        }
    }

    fn place(&self, span: Span) -> Place {
        let file = self.name(span.file()).to_owned();
        match span {
            Span::File(_) => {
                Place { file, line: 0, column: 0, length: 0, excerpt: String::new(), excerpt_from: 0 }
            }
            Span::Text { file: id, line, column, length } => self.quoted(file, id, line, column, length),
            Span::Cell { file: id, line, field: None } => {
                Place { column: 0, length: 0, ..self.quoted(file, id, line, 1, 0) }
            }
            Span::Cell { file: id, line, field: Some(field) } => {
                let separator = self.files[id.0 as usize].separator.unwrap_or(b',');
                let cell = fields::locate(self.bytes(id), line, field, separator);
                self.quoted(file, id, cell.line, cell.column, cell.length)
            }
        }
    }

    fn quoted(&self, file: String, id: FileId, line: u32, column: u32, length: u32) -> Place {
        let text = fields::line(self.bytes(id), line);
        let from = match text.chars().count() > EXCERPT_WIDTH {
            true => (column as usize).saturating_sub(1).saturating_sub(EXCERPT_CONTEXT),
            false => 0,
        };
        let excerpt: String = text.chars().skip(from).take(EXCERPT_WIDTH).collect();
        Place { file, line, column, length, excerpt, excerpt_from: from as u32 }
    }
}

fn unreadable(
    name: &str,
    path: &Path,
    error: &std::io::Error,
) -> (&'static crate::diagnose::Code, String, &'static str) {
    match error.kind() {
        ErrorKind::NotFound if name == "study.yaml" => (
            &code::FILE_MISSING,
            "there is no study.yaml here".to_owned(),
            "give the folder that holds study.yaml, or lay a study down with `fullshift start`",
        ),
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
