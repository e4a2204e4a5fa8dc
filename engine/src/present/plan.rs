//! The plan of the next visit as one plain value.

use super::groups::held;
use super::{Found, head};
use crate::correct;
use crate::diagnose::Report;
use crate::judge;
use crate::model::assessment::{FORMAT_VERSION, InputFile, Program};
use crate::model::plan::{GroupPlan, Plan, Wishes};
use crate::model::profile::GroupProfile;
use crate::model::{Group, Ref};
use crate::plan::{self, Against, Air, AskedRule};

/// The plan of every group; the error says in words why there is none.
pub fn of(
    found: &Found,
    wishes: &Wishes,
    inputs: Vec<InputFile>,
    findings: Vec<Report>,
) -> Result<Plan, String> {
    let factors = correct::tube_factors(found.study);
    let air = Air {
        study: found.study,
        concentrations: &found.figures.concentrations,
        limits: &found.limits.entered,
        factors: &factors,
    };
    let groups = found.study.groups.iter().enumerate().map(|(number, (group, ..))| (number, group));
    let of_group = |(number, group): (usize, Ref<Group>)| {
        let against = found.profiles.iter().filter(|p| p.group == group).map(|p| against(found, p)).collect();
        plan::group(&air, found.shifts, (number, group), against, wishes).map_err(|error| error.to_string())
    };
    Ok(Plan {
        format_version: FORMAT_VERSION,
        program: Program { name: "fullshift", version: env!("CARGO_PKG_VERSION") },
        inputs,
        study: head::of(found),
        findings,
        wishes: *wishes,
        draws: plan::DRAWS_IN_WORDS,
        groups: groups.map(of_group).collect::<Result<Vec<GroupPlan>, String>>()?,
    })
}

fn against<'a>(found: &'a Found, profile: &'a GroupProfile) -> Against<'a> {
    let held = held(found, profile.against);
    let asked = found.study.rules_for(held.kind).filter_map(judge::rule);
    let rules = asked.map(|rule| AskedRule {
        name: rule.name,
        fewest: rule.fewest,
        most: rule.most,
        criterion: rule.criterion,
    });
    Against {
        agent: held.agent,
        kind: held.kind,
        limit: held.limit,
        value: held.value,
        profile,
        rules: rules.collect(),
    }
}
