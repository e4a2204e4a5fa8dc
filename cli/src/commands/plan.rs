//! `plan`: the next visit.

use super::result::{Kind, stop, unwritten};
use super::{has_group, sheet};
use crate::arguments::Plan as Typed;
use crate::border::{Border, seed_of_the_clock};
use crate::failure::Failure;
use crate::planning;
use fullshift_engine::FormKind;
use fullshift_engine::model::plan::{Plan, Wishes};

const PLAN: Kind<Plan> = Kind {
    file: "plan.json",
    marks: &["plan.json"],
    inputs: |plan| &plan.inputs,
    tables: fullshift_engine::plan_tables,
    page: planning::page,
};

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
    match fullshift_engine::plan(&typed.study, typed.group.as_deref(), &wishes) {
        Ok(Ok(plan)) => {
            let groups: Vec<String> = plan.groups.iter().map(|group| group.group.clone()).collect();
            has_group(typed.group.as_deref(), &groups)?;
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

/// The field workbook first, then the plan itself.
fn show(typed: &Typed, plan: &Plan, border: &mut Border<'_>) -> Result<(), Failure> {
    if let Some(workbook) = &typed.sheet {
        let pages = fullshift_engine::plan_sheets(plan).map_err(unwritten)?;
        sheet::write(&typed.study, FormKind::Field, typed.paper, workbook, pages, border)?;
        border.say(&format!("Written: {}\n", workbook.display()));
    }
    PLAN.show(plan, (&typed.study, typed.out.as_deref()), typed.format, border)
}
