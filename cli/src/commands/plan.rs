//! `plan`: the next visit.

use super::{check, json, sheet};
use crate::arguments::{Format, Plan as Typed};
use crate::border::{Border, seed_of_the_clock};
use crate::deliver::{Existing, Parcel, deliver};
use crate::failure::Failure;
use crate::page::terminal;
use crate::{finding, planning};
use fullshift_engine::model::plan::{Plan, Wishes};
use fullshift_engine::{FormKind, Stopped};
use std::path::Path;

pub(super) fn run(typed: &Typed, border: &mut Border<'_>) -> Result<(), Failure> {
    let wishes = Wishes {
        seed: typed.seed.unwrap_or_else(seed_of_the_clock),
        highest: typed.highest,
        confidence: typed.confidence,
        workers: typed.workers.map(|count| count as usize),
        times: typed.times as usize,
        spares: typed.spares,
        gsd: typed.gsd,
        p95: typed.p95,
    };
    match fullshift_engine::plan(&typed.study, &wishes) {
        Ok(Ok(plan)) => {
            refuse_too_many(&plan)?;
            show(typed, &plan, border)
        }
        Ok(Err(words)) => Err(Failure::command(words, "Ask for other numbers.")),
        Err(stopped) => stop(typed.format, &stopped, border),
    }
}

/// More workers than there are cannot be sampled.
fn refuse_too_many(plan: &Plan) -> Result<(), Failure> {
    let wanted = plan.wishes.workers.unwrap_or(0);
    match plan.groups.iter().find(|group| group.population < wanted) {
        Some(group) => Err(Failure::command(
            format!(
                "{wanted} workers cannot be drawn from the {} of group `{}`",
                group.population, group.group
            ),
            "Ask for fewer with --workers, or enter the group's `population` in study.yaml.",
        )),
        None => Ok(()),
    }
}

/// Files first: a result that could not be kept is not shown as if it were.
fn show(typed: &Typed, plan: &Plan, border: &mut Border<'_>) -> Result<(), Failure> {
    if let Some(workbook) = &typed.sheet {
        let pages = fullshift_engine::plan_sheets(plan).map_err(unwritten)?;
        sheet::write(&typed.study, FormKind::Field, typed.paper, workbook, pages, border)?;
        border.say(&format!("Written: {}\n", workbook.display()));
    }
    let written = typed.out.as_deref().map(|folder| write(folder, plan)).transpose()?;
    let page = match typed.format {
        Format::Json => json(plan)?,
        Format::Text => terminal::page(&planning::page(plan), border.width()),
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

fn unwritten(words: String) -> Failure {
    Failure::machine("the tables could not be written", &std::io::Error::other(words))
}

/// Writes all files of a plan and gives the words that say so.
fn write(folder: &Path, plan: &Plan) -> Result<String, Failure> {
    let tables = fullshift_engine::plan_tables(plan).map_err(unwritten)?;
    let whole = json(plan)?;
    let mut parcels: Vec<Parcel<'_>> = vec![("plan.json", whole.as_bytes())];
    parcels.extend(tables.iter().map(|table| (table.name, table.bytes.as_slice())));
    deliver(folder, &parcels, Existing::Replace)?;
    let names: Vec<&str> = parcels.iter().map(|(name, _)| *name).collect();
    Ok(format!("Written to {}: {}\n", folder.display(), names.join(", ")))
}
