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

/// The name of a cell of a sheet, as `B4`; row and column count from 1.
pub fn cell_name(row: u32, column: u32) -> String {
    format!("{}{row}", column_name(column))
}

/// The letters of a column of a sheet; 1 is `A`, 27 is `AA`.
fn column_name(column: u32) -> String {
    let (mut letters, mut left) = (Vec::new(), column);
    while left > 0 {
        letters.push(b'A' + ((left - 1) % 26) as u8);
        left = (left - 1) / 26;
    }
    letters.iter().rev().map(|&letter| char::from(letter)).collect()
}

#[cfg(test)]
mod tests {
    use super::cell_name;

    /// The last column of a sheet is XFD, the 16,384th (ECMA-376, part 1, 18.3.1.73).
    #[test]
    fn cells_are_named_as_a_spreadsheet_names_them() {
        let names = [(4, 2), (1, 26), (1, 27), (9, 702), (9, 703), (1, 16_384)];
        assert_eq!(names.map(|(r, c)| cell_name(r, c)), ["B4", "Z1", "AA1", "ZZ9", "AAA9", "XFD1"]);
    }
}
