//! A form as the bytes of an .xlsx workbook: the same form gives the same bytes.

mod choice;
mod sheet;

use crate::failure::Failure;
use fullshift_engine::model::Form;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};

/// The paper that the pages are laid out for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

impl Paper {
    /// Its number in the file format (ECMA-376, part 1, 18.3.1.63).
    fn number(self) -> u8 {
        match self {
            Paper::A4 => 9,
            Paper::Letter => 1,
        }
    }
}

/// The bytes of a workbook.
pub(crate) fn bytes(form: &Form, paper: Paper) -> Result<Vec<u8>, Failure> {
    written(form, paper)
        .map_err(|error| Failure::machine("the workbook could not be made", &std::io::Error::other(error)))
}

fn written(form: &Form, paper: Paper) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    // The day on which it was made would make every copy another file.
    let made = ExcelDateTime::from_ymd(2000, 1, 1)?;
    workbook.set_properties(&DocProperties::new().set_title(&form.title).set_creation_datetime(&made));
    for page in &form.sheets {
        sheet::write(workbook.add_worksheet(), page, form, paper)?;
    }
    let listed = choice::listed(form);
    if !listed.is_empty() {
        choice::write_lists(workbook.add_worksheet(), &listed)?;
    }
    workbook.save_to_buffer()
}
