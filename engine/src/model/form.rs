//! A workbook to be filled in: its sheets with their columns, what may stand in them and what stands there already.

/// The whole workbook.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Form {
    /// Title of the study, for the head of a printed page.
    pub title: String,
    /// Its sheets, in their order.
    pub sheets: Vec<FormSheet>,
    /// Names that have no sheet of their own, under the setting that declares them.
    pub lists: Vec<(String, Vec<String>)>,
}

/// One sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct FormSheet {
    /// Its name.
    pub name: String,
    /// Its columns; their headings stand in the first row.
    pub columns: Vec<FormColumn>,
    /// What stands in it, each row with its number in the sheet, from 2.
    pub rows: Vec<(u32, Vec<String>)>,
    /// Rows to be left for filling in.
    pub spare_rows: u32,
}

/// One column.
#[derive(Debug, Clone, PartialEq)]
pub struct FormColumn {
    /// Its heading, with the unit where there is one.
    pub heading: String,
    /// What belongs in it.
    pub about: String,
    /// What a cell of it holds.
    pub entry: FormEntry,
}

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub enum FormEntry {
    /// What the program has written, not to be changed.
    Fixed,
    /// Words.
    Text,
    /// A number, where it is nothing else.
    Number,
    /// A date and time.
    Moment,
    /// One of these words.
    Choice(Vec<String>),
    /// The name of something declared under this setting.
    NameOf(String),
}
