//! `assess`: the main job.

use super::result::{Kind, stop, unwritten};
use super::{json, no_such_group};
use crate::arguments::{Assess, Format, Tables};
use crate::border::Border;
use crate::deliver::Pending;
use crate::failure::Failure;
use crate::page::terminal;
use crate::report::only_group;
use crate::standing::{Existing, Inputs};
use crate::{overview, summary};
use fullshift_engine::model::{Assessment, Overview};
use fullshift_engine::{Assessed, Keep, TableFile, TableFormat, Target};
use std::io::Write;

/// An assessment leaves one of these.
const MARKS: &[&str] = &["assessment.json", "overview.json"];

/// A kind of result whose tables are written in a format.
const fn assessed(tables: fn(&Assessment) -> Result<Vec<TableFile>, String>) -> Kind<Assessment> {
    Kind {
        file: "assessment.json",
        marks: MARKS,
        inputs: |assessment| &assessment.inputs,
        tables,
        page: summary::page,
    }
}

pub(super) fn run(typed: &Assess, border: &mut Border<'_>) -> Result<(), Failure> {
    let pending = typed.out.as_deref().map(Pending::in_folder).transpose()?;
    let open = |name: &str| match &pending {
        Some(pending) => pending.open(name).map(|file| Box::new(file) as Target),
        None => Err(std::io::ErrorKind::NotFound.into()),
    };
    let keep = pending.is_some().then(|| Keep { format: format(typed.tables), open: &open });
    let progress = border.progress();
    let watch = |at: fullshift_engine::model::Progress| progress(at.done, at.of);
    match fullshift_engine::assess(&typed.study, typed.group.as_deref(), keep.as_ref(), &watch) {
        Ok(Assessed::Study(assessment)) => {
            drop(pending);
            show(*assessment, typed, border)
        }
        Ok(Assessed::Archive(overview)) => {
            let refused = || pending.as_ref().and_then(Pending::refused);
            let overview = (*overview).map_err(|words| refused().unwrap_or_else(|| unwritten(words)))?;
            let told = pending.map(|pending| write(&overview, pending, typed)).transpose()?;
            let page = match typed.format {
                Format::Json => json(&overview)?,
                Format::Text => terminal::page(&overview::page(&overview), border.width()),
            };
            let printed = border.print(&page);
            told.iter().for_each(|told| border.say(told));
            printed
        }
        Err(stopped) => stop(typed.format, &stopped, border),
    }
}

fn format(tables: Tables) -> TableFormat {
    match tables {
        Tables::Csv => TableFormat::Csv,
        Tables::Parquet => TableFormat::Parquet,
    }
}

fn show(assessment: Assessment, typed: &Assess, border: &mut Border<'_>) -> Result<(), Failure> {
    let assessment = match &typed.group {
        None => assessment,
        Some(group) => {
            let groups = assessment.study.groups.iter().map(|g| g.group.clone()).collect::<Vec<_>>();
            only_group(assessment, group).ok_or_else(|| no_such_group(group, &groups))?.0
        }
    };
    let kind = match typed.tables {
        Tables::Csv => assessed(fullshift_engine::tables),
        Tables::Parquet => assessed(fullshift_engine::packed_tables),
    };
    kind.show(&assessment, (&typed.study, typed.out.as_deref()), typed.format, border)
}

/// Writes the overview beside the tables, which have been written on the way, and says so.
fn write(overview: &Overview, pending: Pending<'_>, typed: &Assess) -> Result<String, Failure> {
    let whole = json(overview)?;
    let written = pending.open("overview.json").and_then(|mut file| file.write_all(whole.as_bytes()));
    written.map_err(|error| Failure::machine("cannot write overview.json", &error))?;
    let folder = typed.out.as_deref().map(|folder| folder.display().to_string()).unwrap_or_default();
    let inputs = Inputs::of(&typed.study, &overview.inputs);
    let names = pending.deliver(Existing::Renew(&inputs, MARKS))?;
    Ok(format!("Written to {folder}: {}\n", names.join(", ")))
}
