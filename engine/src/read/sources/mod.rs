//! The files of a study: opened once, kept for quoting, hashed for the record.

mod absent;
mod door;
mod encoding;
mod long;
mod place;
mod unreadable;

use crate::diagnose::{Code, FileId, Findings, Span, code};
use crate::model::assessment::InputFile;
use csv::StringRecord;
use door::Shut;
use sha2::{Digest, Sha256};
use std::path::{Path, PathBuf};
use unreadable::unreadable;

pub use long::{Long, Piece};

/// The files opened so far.
#[derive(Debug, Default)]
pub struct Sources {
    folder: PathBuf,
    files: Vec<SourceFile>,
}

#[derive(Debug)]
struct SourceFile {
    name: String,
    content: Content,
}

#[derive(Debug)]
enum Content {
    /// A file of its own.
    Bytes {
        bytes: Vec<u8>,
        /// The same in UTF-8, where it was not.
        decoded: Option<Vec<u8>>,
        /// Separator of its cells, where it is a table.
        separator: Option<u8>,
    },
    /// The rows of a sheet of a workbook, or of a table that is no text; each with its number.
    Grid {
        /// The workbook, and the name of the sheet in it.
        sheet: Option<(FileId, String)>,
        rows: Vec<(u32, StringRecord)>,
    },
    /// A file of an archive, read again wherever it is needed.
    Long(Long),
}

impl SourceFile {
    fn of_bytes(name: &str, bytes: Vec<u8>) -> Self {
        SourceFile {
            name: name.to_owned(),
            content: Content::Bytes { bytes, decoded: None, separator: None },
        }
    }
}

impl Sources {
    /// Opens the study file of a folder, or the file itself.
    pub fn open_study(&mut self, path: &Path, findings: &Findings) -> Option<FileId> {
        let (folder, name) = match path.is_dir() {
            true => (path.to_owned(), absent::STUDY_FILE.to_owned()),
            false => (
                path.parent().unwrap_or(Path::new("")).to_owned(),
                path.file_name()
                    .map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned()),
            ),
        };
        self.folder = folder;
        if let Some((message, help)) = absent::study(path) {
            self.files.push(SourceFile::of_bytes(&name, Vec::new()));
            findings.report(&code::FILE_MISSING, Span::File(FileId(0)), message, help);
            return None;
        }
        self.open(&name, None, findings)
    }

    /// Opens a file of the study, or gives it again; `mentioned` is where the study names it.
    pub fn open(&mut self, name: &str, mentioned: Option<Span>, findings: &Findings) -> Option<FileId> {
        if let Some(open) = self.files.iter().position(|f| f.name == name) {
            return Some(FileId(open as u16));
        }
        let id = FileId(self.files.len() as u16);
        // Where the study itself lies is the user's own choice.
        let allowed = mentioned.map_or(Ok(()), |_| door::inside(&self.folder, name));
        match allowed.and_then(|()| door::bytes(&self.folder, name)) {
            Ok(bytes) => {
                self.files.push(SourceFile::of_bytes(name, bytes));
                Some(id)
            }
            Err(shut) => {
                let (code, message, help) = self.shut(name, shut);
                if mentioned.is_none() {
                    self.files.push(SourceFile::of_bytes(name, Vec::new()));
                }
                findings.report(code, mentioned.unwrap_or(Span::File(id)), message, help);
                None
            }
        }
    }

    /// Why a file is not opened, as a finding has it.
    fn shut(&self, name: &str, shut: Shut) -> (&'static Code, String, &'static str) {
        match shut {
            Shut::Refused(message, help) => (&code::FILE_UNREADABLE, message, help),
            Shut::Failed(error) => unreadable(name, &self.folder.join(name), &error),
        }
    }

    /// The bytes of a file, without a byte-order mark.
    pub fn bytes(&self, file: FileId) -> &[u8] {
        let bytes = match &self.files[file.0 as usize].content {
            Content::Bytes { bytes, decoded, .. } => decoded.as_ref().unwrap_or(bytes),
            Content::Grid { .. } | Content::Long(_) => return &[],
        };
        bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes)
    }

    /// Keeps the rows of a sheet of a workbook, or of a table that is no text, for quoting.
    pub fn add_rows(&mut self, file: FileId, sheet: Option<&str>, rows: Vec<(u32, StringRecord)>) -> FileId {
        let own = self.name(file);
        let name = sheet.map_or_else(|| own.to_owned(), |sheet| format!("{own}#{sheet}"));
        let content = Content::Grid { sheet: sheet.map(|sheet| (file, sheet.to_owned())), rows };
        self.files.push(SourceFile { name, content });
        FileId(self.files.len() as u16 - 1)
    }

    /// The workbook and the name of the sheet, where a source is one.
    fn sheet(&self, file: FileId) -> Option<(&str, &str)> {
        match &self.files.get(file.0 as usize)?.content {
            Content::Grid { sheet: Some((workbook, sheet)), .. } => Some((self.name(*workbook), sheet)),
            _ => None,
        }
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

    /// Remembers that a file is a table with this separator.
    pub fn set_separator(&mut self, file: FileId, separator: u8) {
        match &mut self.files[file.0 as usize].content {
            Content::Bytes { separator: known, .. } => *known = Some(separator),
            Content::Long(long) => long.separator = separator,
            Content::Grid { .. } => {}
        }
    }

    /// Name of a file relative to the study.
    pub fn name(&self, file: FileId) -> &str {
        self.files.get(file.0 as usize).map_or("study.yaml", |f| &f.name)
    }

    /// The files with their digests, for the record; a finding where a long one cannot be read again.
    pub fn inputs(&self, findings: &Findings) -> Vec<InputFile> {
        let digest = |number: usize| match &self.files[number].content {
            Content::Bytes { bytes, .. } => Some(Sha256::digest(bytes)),
            Content::Long(long) => long.digest().map_err(|error| self.lost(number, &error, findings)).ok(),
            Content::Grid { .. } => None,
        };
        let input = |number: usize| {
            let sha256 = digest(number)?.iter().map(|byte| format!("{byte:02x}")).collect();
            Some(InputFile { file: self.files[number].name.clone(), sha256 })
        };
        (0..self.files.len()).filter_map(input).collect()
    }

    fn lost(&self, number: usize, error: &std::io::Error, findings: &Findings) {
        let name = &self.files[number].name;
        let (code, message, help) = unreadable(name, &self.folder.join(name), error);
        findings.report(code, Span::File(FileId(number as u16)), message, help);
    }
}
