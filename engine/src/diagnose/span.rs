//! A place in one of the user's files.

/// Number of a file in the order in which the study opened it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u16);

/// A place in a file, as small as it can be: every field of a study carries one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Span {
    /// The file as a whole.
    File(FileId),
    /// A stretch of text; line and column count from 1, in characters.
    Text {
        /// The file.
        file: FileId,
        /// Line, from 1.
        line: u32,
        /// Column in characters, from 1.
        column: u32,
        /// Length in characters.
        length: u32,
    },
    /// A cell of a table, or the whole row where `field` is `None`.
    Cell {
        /// The file.
        file: FileId,
        /// Line on which the row starts, from 1.
        line: u32,
        /// Field of the row, from 0.
        field: Option<u16>,
    },
}

impl Span {
    /// The file it lies in.
    pub fn file(self) -> FileId {
        match self {
            Span::File(file) | Span::Text { file, .. } | Span::Cell { file, .. } => file,
        }
    }

    /// The cell `field` of the same row; a place that is no row stays as it is.
    pub fn cell(self, field: Option<u16>) -> Span {
        match self {
            Span::Cell { file, line, .. } => Span::Cell { file, line, field },
            other => other,
        }
    }
}
