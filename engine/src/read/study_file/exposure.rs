//! Agents, pumps and tasks.

use super::super::quantity::{MOLAR_MASS, quantity_text};
use super::super::yaml::{Map, Node};
use super::{declare, declare_pump, positive};
use crate::diagnose::Findings;
use crate::model::{Agent, Study, Task, Unsampled};

/// `agents:`.
pub fn agents(top: &Map, study: &mut Study, findings: &Findings) {
    let example = "agents: {ammonia: {cas: 7664-41-7, molar_mass: 17.03}}";
    declare(top, "agents", example, &mut study.agents, findings, |node| {
        let map = node.map(&["cas", "molar_mass"], findings);
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

/// `tasks:`.
pub fn tasks(top: &Map, study: &mut Study, findings: &Findings) {
    let words = [Unsampled::Zero, Unsampled::Bounds, Unsampled::Borrow].map(|rule| (rule.word(), rule));
    declare(top, "tasks", "tasks: {turning: {}}", &mut study.tasks, findings, |node| {
        let map = node.map(&["unsampled"], findings);
        let unsampled = map.get("unsampled").and_then(|n| n.choice(&words, findings)).unwrap_or_default();
        Some(Task { unsampled })
    });
}
