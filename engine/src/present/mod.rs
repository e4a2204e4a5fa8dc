//! Step 7, present: what the steps found out, as the one plain value that everything printed is a view of.

mod against;
mod basis;
pub mod comparison;
mod field_quality;
mod figures;
mod groups;
mod head;
mod left_out;
mod mixtures;
pub mod outline;
pub mod overview;
pub mod plan;
mod readings;
mod settling;
mod shifts;
mod without;

use crate::diagnose::Report;
use crate::model::assessment::{Assessment, FORMAT_VERSION, InputFile, Program};
use crate::model::profile::{GroupProfile, Outline};
use crate::model::shift::{Figures, Shift};
use crate::model::{Agent, FieldWork, Figure, LimitValues, Ref, Study, brief};

/// What the steps before have found out.
pub struct Found<'a> {
    /// The study.
    pub study: &'a Study,
    /// Its shifts.
    pub shifts: &'a [Shift],
    /// The figures of the shifts.
    pub figures: &'a Figures,
    /// The profiles of the groups.
    pub profiles: &'a [GroupProfile],
    /// What the rules say of its field work.
    pub field_work: &'a FieldWork,
    /// Its limits in the unit of their agents' figures.
    pub limits: &'a LimitValues,
    /// Where each reading stands, in words.
    pub places: &'a [String],
    /// Whether what the figures of shifts are made of is told with them: working, tasks, diary. A table does without.
    pub parts: bool,
    /// How ppm and mg/m3 were converted, in words.
    pub conversion: &'a str,
}

/// What is left without the readings that a rule qualifies: the figures of the shifts, and the outlines of the groups in the order
/// of their profiles.
pub struct Fewer {
    /// The figures of the shifts.
    pub figures: Figures,
    /// The outlines of the groups.
    pub outlines: Vec<Outline>,
}

/// The whole as one value; `fewer` is what is left without the readings that a rule qualifies.
pub fn assessment(
    found: &Found,
    fewer: Option<&Fewer>,
    inputs: Vec<InputFile>,
    findings: Vec<Report>,
) -> Assessment {
    let (readings, shifts) = (readings::results(found), shifts::results(found));
    let (mixtures, groups) = (mixtures::results(found), groups::results(found));
    let with = without::With { readings: &readings, shifts: &shifts, mixtures: &mixtures, groups: &groups };
    let without = fewer.map(|fewer| {
        without::changes(&with, &Found { figures: &fewer.figures, parts: false, ..*found }, &fewer.outlines)
    });
    Assessment {
        format_version: FORMAT_VERSION,
        program: Program { name: "fullshift", version: env!("CARGO_PKG_VERSION") },
        inputs,
        study: head::of(found),
        findings,
        field_quality: field_quality::of(found, &readings, without),
        readings,
        shifts,
        mixtures,
        groups,
    }
}

/// The shifts of a study, each with its figures and verdicts.
pub fn shifts(found: &Found) -> Vec<crate::model::assessment::ShiftResult> {
    shifts::results(found)
}

/// Limit `number` as entered, in the unit of its agent's figures.
fn limit_figure(found: &Found, number: usize) -> Figure {
    let (limit, value) = (&found.study.limits[number], found.limits.entered[number]);
    let unit = found.study.unit(limit.agent);
    let method = if limit.value.unit == unit { "as entered" } else { "as entered, converted" };
    Figure::between(value, value, value, unit.symbol(), method)
}

/// Limit `number` as it holds for a shift.
fn shift_limit_figure(found: &Found, number: usize, shift: usize) -> Figure {
    let reduction = found.limits.reductions[number][shift];
    if reduction == 1.0 {
        return limit_figure(found, number);
    }
    let value = found.limits.in_shift(number, shift);
    let unit = found.study.unit(found.study.limits[number].agent).symbol();
    Figure::between(
        value,
        value,
        value,
        unit,
        format!(
            "lowered for the hours worked and held against the mean over them; on the scale of the TWA {} of the limit entered",
            brief(reduction)
        ),
    )
}

/// Address of a shift's figure, by which `trace` finds it.
fn address(study: &Study, shift: &Shift, agent: Ref<Agent>, what: &str) -> String {
    format!("{}/{}/{what}", shift.name, study.agents.name(agent))
}
