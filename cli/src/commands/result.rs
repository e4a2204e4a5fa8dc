//! A result of the engine: its files first, then its page or its JSON.

use super::{check, json};
use crate::arguments::Format;
use crate::border::Border;
use crate::deliver::{Parcel, deliver};
use crate::failure::Failure;
use crate::finding;
use crate::page::{Page, terminal};
use crate::standing::{Existing, Inputs};
use fullshift_engine::model::assessment::InputFile;
use fullshift_engine::{Stopped, TableFile};
use serde::Serialize;
use std::path::Path;

/// How a kind of result is kept and shown.
pub(super) struct Kind<T> {
    /// The name of its JSON file.
    pub(super) file: &'static str,
    /// The JSON files by which a folder is known to hold such results already.
    pub(super) marks: &'static [&'static str],
    /// The files that it was found from.
    pub(super) inputs: fn(&T) -> &[InputFile],
    /// Its tables.
    pub(super) tables: fn(&T) -> Result<Vec<TableFile>, String>,
    /// Its page.
    pub(super) page: fn(&T) -> Page,
}

impl<T: Serialize> Kind<T> {
    /// Files first: a result that could not be kept is not shown as if it were.
    pub(super) fn show(
        &self,
        result: &T,
        (study, out): (&Path, Option<&Path>),
        format: Format,
        border: &mut Border<'_>,
    ) -> Result<(), Failure> {
        let inputs = Inputs::of(study, (self.inputs)(result));
        let written = out.map(|folder| self.write(folder, result, &inputs)).transpose()?;
        let page = match format {
            Format::Json => json(result)?,
            Format::Text => terminal::page(&(self.page)(result), border.width()),
        };
        let printed = border.print(&page);
        if let Some(told) = written {
            border.say(&told);
        }
        printed
    }

    /// Writes all files of a result and gives the words that say so.
    fn write(&self, folder: &Path, result: &T, inputs: &Inputs) -> Result<String, Failure> {
        let tables = (self.tables)(result).map_err(unwritten)?;
        let whole = json(result)?;
        let mut parcels: Vec<Parcel<'_>> = vec![(self.file, whole.as_bytes())];
        parcels.extend(tables.iter().map(|table| (table.name.as_str(), table.bytes.as_slice())));
        deliver(folder, &parcels, Existing::Renew(inputs, self.marks))?;
        let names: Vec<&str> = parcels.iter().map(|(name, _)| *name).collect();
        Ok(format!("Written to {}: {}\n", folder.display(), names.join(", ")))
    }
}

/// What the table writer complained of.
pub(super) fn unwritten(words: String) -> Failure {
    Failure::machine("the tables could not be written", &std::io::Error::other(words))
}

/// Says why a study gave no result.
pub(super) fn stop(format: Format, stopped: &Stopped, border: &mut Border<'_>) -> Result<(), Failure> {
    match format {
        Format::Json => border.print(&json(&finding::listed(&stopped.findings))?)?,
        Format::Text => check::tell_why(&stopped.findings, border),
    }
    Err(Failure::Study)
}
