//! The page that `plan` prints: whom, when, with which tubes, and what it can be expected to settle.

mod chances;
mod tubes;
mod visits;
mod workers;

use crate::page::{Block, Page, Section, Text, Tone, short};
use fullshift_engine::model::plan::Plan;

const CAUTION: &str = "A plan rests on what was measured or assumed so far; it does not replace a competent person's knowledge of the work.";

/// The plan on one page.
pub(crate) fn page(plan: &Plan) -> Page {
    let mut sections = vec![head(plan)];
    for group in &plan.groups {
        sections.push(workers::section(group, plan));
        sections.push(visits::section(group));
        sections.push(tubes::section(group));
        sections.push(chances::section(group));
    }
    let mut caution = Section::default();
    caution.blocks.push(Block::Paragraph(Text::of(Tone::Quiet, CAUTION)));
    sections.push(caution);
    Page { sections }
}

fn head(plan: &Plan) -> Section {
    let mut section =
        Section::headed(format!("Plan for {} ({})", short(&plan.study.title), short(&plan.study.site)));
    let seed = plan.wishes.seed;
    let words = format!("Every draw is made with seed {seed}; --seed {seed} repeats the plan.");
    section.blocks.push(Block::Paragraph(Text::from(words)));
    section
}
