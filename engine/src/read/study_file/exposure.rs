//! Agents, pumps and tasks.

use super::super::fields::settings::{AGENT, TASK};
use super::super::number::Comma;
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
            cas: map.get("cas").and_then(|n| cas(&n, findings)),
            molar_mass: positive(&map, "molar_mass", findings, |n| molar_mass(n, findings).map(|m| (m, m))),
        })
    });
}

/// A CAS Registry Number, if its check digit fits; a word that is none is kept as it stands.
fn cas(node: &Node, findings: &Findings) -> Option<String> {
    let text = node.text(findings)?;
    let of_digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '-');
    if of_digits && !is_cas(&text) {
        let message = format!("`{text}` is no CAS number: its form or its check digit does not fit");
        let help = "copy it again, as 7664-41-7; a digit is wrong or missing, or two are swapped";
        findings.report(&code::IMPOSSIBLE_VALUE, node.span(), message, help);
        return None;
    }
    Some(text)
}

/// Two to seven digits, two and the check digit: the last digit of the sum of all others, each times its place from the
/// right (CAS Registry Number check digit, as published by CAS; recalled).
fn is_cas(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let &[first, second, check] = parts.as_slice() else { return false };
    let lengths = (2..=7).contains(&first.len()) && second.len() == 2 && check.len() == 1;
    let digits = first.bytes().chain(second.bytes()).rev().map(|digit| u32::from(digit - b'0'));
    let sum: u32 = (1..).zip(digits).map(|(place, digit)| place * digit).sum();
    lengths && check.parse() == Ok(sum % 10)
}

/// A molar mass as `17.03` or `17.03 g/mol`: the trade writes it without its unit.
fn molar_mass(node: &Node, findings: &Findings) -> Option<f64> {
    let text = node.text(findings)?;
    match text.ends_with("g/mol") {
        true => node.or_bad_quantity(
            quantity_text(&text, &MOLAR_MASS, Comma::Doubtful),
            MOLAR_MASS.examples,
            findings,
        ),
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

#[cfg(test)]
mod tests {
    use super::is_cas;

    /// Numbers of ammonia, hydrogen sulphide, benzene and water as every list prints them; for water by hand:
    /// 1 x 8 + 2 x 1 + 3 x 2 + 4 x 3 + 5 x 7 + 6 x 7 = 105, so 5.
    #[test]
    fn registry_numbers_as_printed_pass_and_slips_do_not() {
        for right in ["7664-41-7", "7783-06-4", "71-43-2", "7732-18-5"] {
            assert!(is_cas(right), "{right}");
        }
        for wrong in ["7664-41-8", "7646-41-7", "7664-14-7", "7664417", "7664-41", "1-43-2", "76640041-43-2"]
        {
            assert!(!is_cas(wrong), "{wrong}");
        }
    }
}
