//! Limits, and the rules asked for.

use super::super::fields::settings::{LIMIT, RULES};
use super::super::yaml::{Map, Node};
use super::{count, declared, minutes};
use crate::diagnose::{Findings, code};
use crate::model::{Adjust, Agent, Limit, LimitKind, Minutes, Mixture, Ref, Study};

/// Kinds of limit that a user can enter, by word.
pub const KINDS: [(&str, LimitKind); 3] =
    [("twa", LimitKind::Twa), ("short-term", LimitKind::ShortTerm), ("ceiling", LimitKind::Ceiling)];

/// `limits:`.
pub fn limits(top: &Map, study: &mut Study, findings: &Findings) {
    let example = "limits: [{agent: ammonia, kind: twa, value: 20 ppm, source: national list}]";
    study.faulty.limits = true;
    let Some(node) = top.need("limits", example, findings) else { return };
    let list = node.list(findings);
    let read: Vec<Limit> = list.iter().filter_map(|n| limit(n, study, findings)).collect();
    study.faulty.limits = list.is_empty() || read.len() < list.len();
    study.limits = read;
}

fn limit(node: &Node, study: &Study, findings: &Findings) -> Option<Limit> {
    let map = node.map(LIMIT, findings);
    let agent = map.need("agent", "agent: ammonia", findings);
    let agent = agent.and_then(|n| declared(&n, &study.agents, "agent", findings));
    let kind = map.need("kind", "kind: twa", findings).and_then(|n| n.choice(&KINDS, findings));
    let value = map.need("value", "value: 20 ppm", findings);
    let value = value.and_then(|n| Some((n.concentration(findings)?, n)));
    let averaging = averaging(&map, kind, findings);
    let adjust = adjust(&map, kind, study, findings);
    let at_most = map.get("at_most").and_then(|n| count(&n, findings));
    let at_least_apart = minutes(&map, "at_least_apart", findings);
    let source = map.get("source").and_then(|n| n.text(findings)).unwrap_or_default();
    let (value, value_node) = value?;
    let most = value.unit.most_in_air();
    if value.value <= 0.0 || value.value > most {
        let message = match value.value > most {
            true => format!("no air holds more than {most} {} of anything", value.unit),
            false => "a limit must be more than zero".to_owned(),
        };
        let help = "check the number and its unit in the list it was taken from";
        findings.report(&code::IMPOSSIBLE_VALUE, value_node.span(), message, help);
        return None;
    }
    Some(Limit {
        agent: agent?,
        kind: kind?,
        value,
        averaging: averaging?,
        adjust: adjust?,
        at_most,
        at_least_apart,
        source,
        span: node.span(),
    })
}

/// Averaging time of a limit: a short-term limit must tell it, the others have none of their own.
fn averaging(map: &Map, kind: Option<LimitKind>, findings: &Findings) -> Option<Minutes> {
    match (kind?, map.get("averaging")) {
        (LimitKind::ShortTerm, _) => {
            map.need("averaging", "averaging: 15 min", findings)?;
            minutes(map, "averaging", findings)
        }
        (_, None) => Some(Minutes(0.0)),
        (_, Some(node)) => {
            let help = "take `averaging` away, or write `kind: short-term`; a TWA is taken over `shift: {reference: 8 h}`";
            let message = "only a short-term limit has an averaging time of its own";
            findings.report(&code::IMPOSSIBLE_VALUE, node.key_span(), message, help);
            None
        }
    }
}

/// How a limit is lowered for long shifts: a TWA limit only.
fn adjust(map: &Map, kind: Option<LimitKind>, study: &Study, findings: &Findings) -> Option<Adjust> {
    let Some(node) = map.get("adjust") else { return Some(Adjust::None) };
    let adjust = node.choice(&Adjust::ALL.map(|adjust| (adjust.word(), adjust)), findings)?;
    if adjust != Adjust::None && kind? != LimitKind::Twa {
        let message = format!("a {} limit is not lowered for long shifts", kind?.word());
        findings.report(
            &code::IMPOSSIBLE_VALUE,
            node.span(),
            message,
            "take `adjust` away; it belongs to a TWA limit",
        );
        return None;
    }
    if adjust == Adjust::Weekly && study.shift.week.is_none() {
        let message = "a limit lowered by the week needs the working time of a week";
        findings.report(&code::MISSING_KEY, node.span(), message, "add it as shift: {week: 48 h}");
        return None;
    }
    Some(adjust)
}

/// `additive:`, the substances whose effects add up.
pub fn additive(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("additive") else { return };
    study.additive = node.list(findings).iter().filter_map(|n| mixture(n, study, findings)).collect();
}

fn mixture(node: &Node, study: &Study, findings: &Findings) -> Option<Mixture> {
    let list = if node.is_list() { node.list(findings) } else { Vec::new() };
    let named = list.iter().map(|n| Some((declared(n, &study.agents, "agent", findings)?, n)));
    let named: Vec<(Ref<Agent>, &Node)> = named.collect::<Option<_>>()?;
    let mut agents: Vec<Ref<Agent>> = Vec::new();
    for (agent, place) in named {
        if agents.contains(&agent) {
            let message = format!("{} stands twice in this mixture", study.agents.name(agent));
            findings.report(&code::IMPOSSIBLE_VALUE, place.span(), message, "name each substance once");
            return None;
        }
        agents.push(agent);
    }
    if agents.len() < 2 {
        let help = "write the substances whose effects add up, as additive: [[ammonia, hydrogen-sulphide]]";
        findings.report(&code::IMPOSSIBLE_VALUE, node.span(), "a mixture has two substances or more", help);
        return None;
    }
    Some(Mixture { agents, span: node.span() })
}

/// `rules:`; without it, the screening rule for every TWA limit.
pub fn rules(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("rules") else {
        study.rules = vec![(LimitKind::Twa, vec![("screening".to_owned(), top.span())])];
        return;
    };
    let map = node.map(RULES, findings);
    for (word, kind) in KINDS.into_iter().chain([("mixture", LimitKind::Mixture)]) {
        let Some(list) = map.get(word) else { continue };
        let names = list.list(findings).iter().filter_map(|n| Some((n.text(findings)?, n.span()))).collect();
        study.rules.push((kind, names));
    }
}
