//! Agents, pumps and tasks.

use super::super::fields::settings::{AGENT, TASK};
use super::super::quantity::{MOLAR_MASS, quantity_text};
use super::super::yaml::{Map, Node};
use super::{declare, declare_pump, positive};
use crate::diagnose::{Findings, code};
use crate::model::{Agent, Study, Task, Unsampled};

/// `agents:`.
pub fn agents(top: &Map, study: &mut Study, findings: &Findings) {
    let example = "agents: {ammonia: {cas: 7664-41-7, molar_mass: 17.03}}";
    declare(top, "agents", example, &mut study.agents, findings, |node| {
        let map = node.map(AGENT, findings);
        Some(Agent {
            cas: map.get("cas").and_then(|n| n.text(findings)),
            molar_mass: positive(&map, "molar_mass", findings, |n| molar_mass(n, findings).map(|m| (m, m))),
        })
    });
}

/// A molar mass as `17.03` or `17.03 g/mol`: the trade writes it without its unit.
fn molar_mass(node: &Node, findings: &Findings) -> Option<f64> {
    let text = node.text(findings)?;
    match text.ends_with("g/mol") {
        true => node.or_bad_quantity(quantity_text(&text, &MOLAR_MASS), MOLAR_MASS.examples, findings),
        false => node.number(findings),
    }
}

/// `pumps:`.
pub fn pumps(top: &Map, study: &mut Study, findings: &Findings) {
    declare(top, "pumps", "pumps: {P1: {}}", &mut study.pumps, findings, |node| declare_pump(node, findings));
}

/// What may stand for unsampled minutes, by word.
pub const UNSAMPLED: [(&str, Unsampled); 3] =
    [("zero", Unsampled::Zero), ("bounds", Unsampled::Bounds), ("borrow", Unsampled::Borrow)];

/// `tasks:`.
pub fn tasks(top: &Map, study: &mut Study, findings: &Findings) {
    let usual = study.shift.unsampled;
    declare(top, "tasks", "tasks: {turning: {}}", &mut study.tasks, findings, |node| {
        let map = node.map(TASK, findings);
        let unsampled = map.get("unsampled").map_or(Some(usual), |n| n.choice(&UNSAMPLED, findings))?;
        let protection_factor = map.get("protection_factor").map(|n| protection_factor(&n, findings));
        Some(Task {
            unsampled,
            protection_factor: protection_factor.map_or(Some(None), |factor| factor.map(Some))?,
        })
    });
}

/// An assigned protection factor: what the respirator divides the concentration by.
fn protection_factor(node: &Node, findings: &Findings) -> Option<f64> {
    let factor = node.number(findings)?;
    if factor >= 1.0 {
        return Some(factor);
    }
    let help = "write the assigned protection factor of the respirator, as 10; without one, leave it out";
    findings.report(&code::IMPOSSIBLE_VALUE, node.span(), "a protection factor is 1 or more", help);
    None
}
