//! `assess`: the main job.

use super::{check, json};
use crate::arguments::{Assess, Format};
use crate::border::Border;
use crate::deliver::{Existing, Parcel, deliver};
use crate::failure::Failure;
use crate::page::terminal;
use crate::{finding, summary};
use fullshift_engine::Stopped;
use fullshift_engine::model::Assessment;
use std::path::Path;

pub(super) fn run(typed: &Assess, border: &mut Border<'_>) -> Result<(), Failure> {
    match fullshift_engine::assess(&typed.study) {
        Ok(assessment) => show(typed, &assessment, border),
        Err(stopped) => stop(typed.format, &stopped, border),
    }
}

/// Files first: a result that could not be kept is not shown as if it were.
fn show(typed: &Assess, assessment: &Assessment, border: &mut Border<'_>) -> Result<(), Failure> {
    let written = typed.out.as_deref().map(|folder| write(folder, assessment)).transpose()?;
    let page = match typed.format {
        Format::Json => json(assessment)?,
        Format::Text => terminal::page(&summary::page(assessment), border.width()),
    };
    let printed = border.print(&page);
    if let Some(told) = written {
        border.say(&told);
    }
    printed
}

fn stop(format: Format, stopped: &Stopped, border: &mut Border<'_>) -> Result<(), Failure> {
    match format {
        Format::Json => border.print(&json(&finding::listed(&stopped.findings))?)?,
        Format::Text => check::tell_why(&stopped.findings, border),
    }
    Err(Failure::Study)
}

/// Writes all files of an assessment and gives the words that say so.
fn write(folder: &Path, assessment: &Assessment) -> Result<String, Failure> {
    let tables = fullshift_engine::tables(assessment).map_err(|words| {
        Failure::machine("the tables could not be written", &std::io::Error::other(words))
    })?;
    let whole = json(assessment)?;
    let mut parcels: Vec<Parcel<'_>> = vec![("assessment.json", whole.as_bytes())];
    parcels.extend(tables.iter().map(|table| (table.name, table.bytes.as_slice())));
    deliver(folder, &parcels, Existing::Replace)?;
    let names: Vec<&str> = parcels.iter().map(|(name, _)| *name).collect();
    Ok(format!("Written to {}: {}\n", folder.display(), names.join(", ")))
}
