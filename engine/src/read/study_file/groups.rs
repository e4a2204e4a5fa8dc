//! Similar-exposure groups and the workers listed under them.

use super::super::fields::settings::GROUP;
use super::super::yaml::{Map, Node};
use super::{declare, declared};
use crate::diagnose::{Findings, Span, code};
use crate::model::{Agent, Group, Named, Ref, Study, Worker};
use crate::read::tables::present;

/// `groups:`.
pub fn groups(top: &Map, study: &mut Study, findings: &Findings) -> Vec<Ref<Group>> {
    let example = "groups: {hall-operators: {workers: [W1, W2], agents: [ammonia]}}";
    let mut members: Vec<(usize, String, Span)> = Vec::new();
    let (agents, groups) = (&study.agents, &mut study.groups);
    let mut number = 0;
    declare(top, "groups", example, groups, findings, |node| {
        let (group, workers) = group(node, agents, findings)?;
        members.extend(workers.into_iter().map(|(name, span)| (number, name, span)));
        number += 1;
        Some(group)
    });
    if groups.has_faults() {
        study.workers.mark_unreadable();
    }
    let refs: Vec<Ref<Group>> = study.groups.iter().map(|(group, ..)| group).collect();
    let empty =
        (0..refs.len()).filter(|g| members.iter().all(|(group, ..)| group != g)).map(|g| refs[g]).collect();
    for (group, name, span) in members {
        enrol(study, &name, refs[group], span, findings);
    }
    empty
}

/// Reports the groups without listed workers, where no table of workers is named either.
pub fn report_empty(empty: &[Ref<Group>], study: &mut Study, findings: &Findings) {
    for &group in empty {
        let message = format!("group `{}` has no workers", study.groups.name(group));
        let help = "add `workers: [W1, W2]`, or name a table of workers under `tables`";
        findings.report(&code::MISSING_KEY, study.groups.span(group), message, help);
        study.workers.mark_unreadable();
    }
}

/// Puts a worker into a group; a finding where that worker is in another already.
pub fn enrol(study: &mut Study, name: &str, group: Ref<Group>, span: Span, findings: &Findings) {
    let Err(first) = study.workers.insert(name, span, Worker { group }) else { return };
    let (message, help) = match study.workers[first].group == group {
        true => (format!("worker `{name}` is listed twice"), "keep one of the two"),
        false => (
            format!(
                "worker `{name}` is in group `{}` already",
                study.groups.name(study.workers[first].group)
            ),
            "a worker's shifts speak for one group; leave the worker in one of the two",
        ),
    };
    findings.report_at(&code::WORKER_IN_TWO_GROUPS, vec![span, study.workers.span(first)], message, help);
}

fn group(node: &Node, agents: &Named<Agent>, findings: &Findings) -> Option<(Group, Vec<(String, Span)>)> {
    let map = node.map(GROUP, findings);
    let listed = map.need("agents", "agents: [ammonia]", findings);
    let listed: Vec<Ref<Agent>> = listed
        .map(|n| n.list(findings).iter().filter_map(|a| declared(a, agents, "agent", findings)).collect())
        .unwrap_or_default();
    let workers = map.get("workers").map_or(Vec::new(), |n| n.list(findings));
    let workers: Vec<_> = workers.iter().filter_map(|n| Some((n.text(findings)?, n.span()))).collect();
    let present = map.get("present").map_or(Vec::new(), |n| n.list(findings));
    let present = present
        .iter()
        .filter_map(|n| {
            n.or_bad_quantity(present::one(&n.text(findings)?), "amines or amines=3 ppm", findings)
        })
        .collect();
    let population = map.get("population").and_then(|n| population(&n, workers.len(), findings));
    Some((Group { population, agents: listed, present, span: node.key_span() }, workers))
}

fn population(node: &Node, workers: usize, findings: &Findings) -> Option<u32> {
    let number = node.number(findings)?;
    if number.fract() == 0.0 && number >= workers.max(1) as f64 && number < 1e9 {
        return Some(number as u32);
    }
    findings.report(
        &code::IMPOSSIBLE_VALUE,
        node.span(),
        format!(
            "the population of a group is a whole number, not smaller than its {workers} listed {}",
            if workers == 1 { "worker" } else { "workers" }
        ),
        "count everybody who belongs to the group, sampled or not",
    );
    None
}
