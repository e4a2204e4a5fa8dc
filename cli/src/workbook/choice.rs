//! What a cell offers: the words that are possible, or the names that the study declares.

use super::sheet::CHOICE_ROWS;
use fullshift_engine::model::{Form, FormColumn, FormEntry};
use rust_xlsxwriter::{DataValidation, DataValidationErrorStyle, Formula, Worksheet, XlsxError};

/// The sheet of names that have no sheet of their own.
const LISTS: &str = "lists";
/// Most characters of a hint (ECMA-376, part 1, 18.3.1.32).
const LONGEST_HINT: usize = 255;

/// What a column offers and says; nothing where there is nothing to say.
pub(super) fn validation(column: &FormColumn, form: &Form) -> Result<Option<DataValidation>, XlsxError> {
    let offered = match &column.entry {
        FormEntry::Fixed => return Ok(None),
        FormEntry::Choice(words) => {
            DataValidation::new().allow_list_strings(&words.iter().map(String::as_str).collect::<Vec<_>>())?
        }
        FormEntry::NameOf(setting) => match range(setting, form) {
            Some(range) => DataValidation::new().allow_list_formula(Formula::new(range)),
            None => DataValidation::new().allow_any_value(),
        },
        _ if column.about.is_empty() => return Ok(None),
        _ => DataValidation::new().allow_any_value(),
    };
    let hint: String = column.about.chars().take(LONGEST_HINT).collect();
    let named = offered
        .set_error_style(DataValidationErrorStyle::Warning)
        .set_error_title("Not on the list")?
        .set_error_message("The study does not know this name or word. Keep it all the same?")?;
    Ok(Some(named.set_input_message(hint)?))
}

/// The cells that hold the names declared under a setting.
fn range(setting: &str, form: &Form) -> Option<String> {
    if form.sheets.iter().any(|sheet| sheet.name == setting) {
        return Some(format!("={setting}!$A$2:$A${CHOICE_ROWS}"));
    }
    let (at, names) = listed(form)
        .into_iter()
        .enumerate()
        .find_map(|(at, (name, names))| (name == setting).then_some((at, names)))?;
    let column = char::from(b'A' + u8::try_from(at).ok()?);
    Some(format!("={LISTS}!${column}$2:${column}${}", names.len() + 1))
}

/// The names that have no sheet of their own, under the settings that declare them.
pub(super) fn listed(form: &Form) -> Vec<(&str, &[String])> {
    let asked = |setting: &str| {
        let is = |column: &FormColumn| matches!(&column.entry, FormEntry::NameOf(name) if name == setting);
        form.sheets.iter().any(|sheet| sheet.columns.iter().any(is))
    };
    let without_sheet = |setting: &str| form.sheets.iter().all(|sheet| sheet.name != setting);
    let lists =
        form.lists.iter().filter(|(name, names)| asked(name) && without_sheet(name) && !names.is_empty());
    lists.map(|(name, names)| (name.as_str(), names.as_slice())).collect()
}

/// Writes those names, out of sight.
pub(super) fn write_lists(to: &mut Worksheet, lists: &[(&str, &[String])]) -> Result<(), XlsxError> {
    to.set_name(LISTS)?;
    to.set_hidden(true);
    for (at, (setting, names)) in (0u16..).zip(lists) {
        to.write_string(0, at, *setting)?;
        for (row, name) in (1u32..).zip(*names) {
            to.write_string(row, at, name)?;
        }
    }
    to.protect();
    Ok(())
}
