//! `prior:` and `reassess:`.

use super::super::fields::settings::{PRIOR, PRIOR_GM, PRIOR_GSD, REASSESS, REASSESS_STEP};
use super::super::quantity::SHARE;
use super::super::yaml::{Map, Node};
use super::limits::KINDS;
use super::{count, declared};
use crate::diagnose::{Findings, code};
use crate::model::Study;
use crate::model::belief::{Belief, Believed, Reassessment};

/// `prior:`.
pub fn prior(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("prior") else { return };
    let read: Vec<Belief> = node.list(findings).iter().filter_map(|n| belief(n, study, findings)).collect();
    study.beliefs = read;
}

fn belief(node: &Node, study: &Study, findings: &Findings) -> Option<Belief> {
    let map = node.map(PRIOR, findings);
    let agent = map.need("agent", "agent: ammonia", findings);
    let agent = agent.and_then(|n| declared(&n, &study.agents, "agent", findings));
    let kind = map.need("kind", "kind: twa", findings).and_then(|n| n.choice(&KINDS, findings));
    let gm = map.need("gm", "gm: {median: 30 %, gsd: 3}", findings);
    let gm = gm.and_then(|n| {
        let map = n.map(PRIOR_GM, findings);
        let share = |key: &str| map.get(key).and_then(|n| n.quantity(&SHARE, findings));
        let factor = map.get("gsd").and_then(|n| n.number(findings));
        believed(&n, (share("lowest"), share("highest")), (share("median"), factor), 0.0, findings)
    });
    let gsd = map.need("gsd", "gsd: {median: 2, factor: 1.5}", findings);
    let gsd = gsd.and_then(|n| {
        let map = n.map(PRIOR_GSD, findings);
        let number = |key: &str| map.get(key).and_then(|n| n.number(findings));
        let ends = (number("lowest"), number("highest"));
        believed(&n, ends, (number("median"), number("factor")), 1.0, findings)
    });
    let source = map.need("source", "source: three visits to like halls", findings);
    let source = source.and_then(|n| n.text(findings));
    let (agent, kind) = (agent?, kind?);
    if !study.limits.iter().any(|limit| limit.agent == agent && limit.kind == kind) {
        let name = study.agents.name(agent);
        let message =
            format!("{name} has no {} limit, so this prior has nothing to be a share of", kind.word());
        let help = "add the limit, or take the prior away";
        findings.report(&code::AGENT_WITHOUT_LIMIT, node.span(), message, help);
        return None;
    }
    Some(Belief { agent, kind, gm: gm?, gsd: gsd?, source: source?, span: node.span() })
}

/// Two ends, or a middle with its factor, all above `least`; a finding where they are neither.
fn believed(
    node: &Node,
    ends: (Option<f64>, Option<f64>),
    about: (Option<f64>, Option<f64>),
    least: f64,
    findings: &Findings,
) -> Option<Believed> {
    let found = match (ends, about) {
        ((Some(lowest), Some(highest)), (None, None)) if lowest > least && highest > lowest => {
            Some(Believed::Between { lowest, highest })
        }
        ((None, None), (Some(median), Some(factor))) if median > least && factor > 1.0 => {
            Some(Believed::About { median, factor })
        }
        _ => None,
    };
    if found.is_none() {
        let message = match least {
            0.0 => {
                "a prior of the GM is a median with a `gsd` above 1, or a lowest and a highest value above 0"
            }
            _ => {
                "a prior of the GSD is a median with a `factor`, or a lowest and a highest value, all above 1"
            }
        };
        let help = match least {
            0.0 => {
                "write it as {median: 30 %, gsd: 3} or {lowest: 1 %, highest: 300 %}, in per cent of the limit"
            }
            _ => "write it as {median: 2, factor: 1.5} or {lowest: 1.1, highest: 5}",
        };
        findings.report(&code::IMPOSSIBLE_VALUE, node.span(), message, help);
    }
    found
}

/// `reassess:`.
pub fn reassess(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("reassess") else { return };
    let map = node.map(REASSESS, findings);
    let source = map.need("source", "source: our own rule", findings).and_then(|n| n.text(findings));
    let Some(list) = map.need("steps", "steps: [{gm_below: 10 %, months: 36}, {months: 12}]", findings)
    else {
        return;
    };
    let members = list.list(findings);
    let steps: Vec<(Option<f64>, u32)> = members.iter().filter_map(|n| step(n, findings)).collect();
    if steps.len() < members.len() {
        return;
    }
    if !rising(&steps) {
        let message = "the steps of a re-assessment rise in `gm_below`, and the last has none";
        let help = "write them as [{gm_below: 10 %, months: 36}, {gm_below: 50 %, months: 18}, {months: 12}]";
        return findings.report(&code::IMPOSSIBLE_VALUE, list.key_span(), message, help);
    }
    if let Some(source) = source {
        study.reassessment = Reassessment { source, steps };
    }
}

fn step(node: &Node, findings: &Findings) -> Option<(Option<f64>, u32)> {
    let map = node.map(REASSESS_STEP, findings);
    let months = map.need("months", "months: 12", findings).and_then(|n| count(&n, findings))?;
    let Some(share) = map.get("gm_below") else { return Some((None, months)) };
    Some((Some(share.quantity(&SHARE, findings)?), months))
}

fn rising(steps: &[(Option<f64>, u32)]) -> bool {
    let Some(((None, _), others)) = steps.split_last() else { return false };
    let shares: Vec<f64> = others.iter().filter_map(|(share, _)| *share).collect();
    shares.len() == others.len() && shares.iter().all(|s| *s > 0.0) && shares.windows(2).all(|w| w[0] < w[1])
}
