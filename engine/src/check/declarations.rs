//! What `study.yaml` declares must fit together.

use crate::diagnose::{Findings, Span, code, nearest};
use crate::model::{Agent, Group, Limit, LimitKind, Named, Ref, Study, brief};
use std::collections::HashMap;

/// Checks rules, molar masses and limits.
pub fn check(study: &Study, rules: &[&'static str], findings: &Findings) {
    unknown_rules(study, rules, findings);
    missing_molar_masses(study, findings);
    limits_below_the_twa_limit(study, findings);
    limits_without_source(study, findings);
    unlikely_scatter(study, findings);
    for (what, names) in declared_names(study) {
        names_alike(what, &names, findings);
    }
    if !study.faulty.limits {
        agents_without_limits(study, findings);
        mixtures_without_limits(study, findings);
    }
    mixtures_of_no_group(study, findings);
    small_populations(study, findings);
}

fn unknown_rules(study: &Study, rules: &[&'static str], findings: &Findings) {
    for (_, asked) in &study.rules {
        for (name, span) in asked.iter().filter(|(name, _)| !rules.contains(&name.as_str())) {
            let message = format!("there is no rule called `{name}`");
            findings.report(&code::UNKNOWN_NAME, *span, message, nearest(name, rules.iter().copied()));
        }
    }
}

/// An agent whose tubes and limits count in different kinds of unit needs its molar mass.
fn missing_molar_masses(study: &Study, findings: &Findings) {
    let help = "add its `molar_mass` under `agents`, as molar_mass: 17.03";
    for (agent, name, _) in study.agents.iter().filter(|(.., a)| a.molar_mass.is_none()) {
        let unit = study.unit(agent);
        let tube = study.tubes.iter().find(|(.., t)| t.agent == agent && t.unit.crosses_to(unit));
        let limit = study.limits.iter().find(|l| l.agent == agent && l.value.unit.crosses_to(unit));
        let other = tube.map(|(.., t)| (t.unit, t.span)).or(limit.map(|l| (l.value.unit, l.span)));
        if let Some((other, span)) = other {
            let message =
                format!("{name} is given in {unit} and in {other}, but its molar mass is not known");
            findings.report_at(&code::NEEDS_MOLAR_MASS, vec![study.agents.span(agent), span], message, help);
        }
    }
}

/// A peak is allowed to be higher than the mean: a limit for it that is lower makes the other needless, or one is wrong. Only what
/// needs no molar mass is compared.
fn limits_below_the_twa_limit(study: &Study, findings: &Findings) {
    let main = |limit: &Limit| limit.value.value / limit.value.unit.per_main_unit();
    for limit in study.limits.iter().filter(|limit| limit.kind != LimitKind::Twa) {
        let comparable = |twa: &&Limit| {
            twa.kind == LimitKind::Twa
                && twa.agent == limit.agent
                && !twa.value.unit.crosses_to(limit.value.unit)
        };
        let lowest = study.limits.iter().filter(comparable).min_by(|a, b| main(a).total_cmp(&main(b)));
        let Some(twa) = lowest.filter(|twa| main(limit) < main(twa)) else { continue };
        let (name, peak, mean) = (study.agents.name(limit.agent), limit.value, twa.value);
        let message = match limit.kind {
            LimitKind::Ceiling => {
                format!("the ceiling limit of {name}, {peak}, is below its TWA limit, {mean}")
            }
            _ => format!("the short-term limit of {name}, {peak}, is below its TWA limit, {mean}"),
        };
        let help = "check value, unit and kind of both in the list they were taken from";
        findings.report_at(&code::LIMIT_BELOW_TWA, vec![limit.span, twa.span], message, help);
    }
}

fn limits_without_source(study: &Study, findings: &Findings) {
    let without = study.limits.iter().filter(|limit| limit.source.trim().is_empty());
    let spans: Vec<Span> = without.map(|limit| limit.span).collect();
    if !spans.is_empty() {
        let message = "a limit does not say where it was taken from";
        let help = "add its source, as source: national list, edition of 2027";
        findings.report_at(&code::LIMIT_WITHOUT_SOURCE, spans, message, help);
    }
}

/// What is declared, each kind with its names and their places.
fn declared_names(study: &Study) -> [(&'static str, Vec<(&str, Span)>); 6] {
    fn of<T>(list: &Named<T>) -> Vec<(&str, Span)> {
        list.iter().map(|(at, name, _)| (name, list.span(at))).collect()
    }
    [
        ("agents", of(&study.agents)),
        ("tubes", of(&study.tubes)),
        ("pumps", of(&study.pumps)),
        ("tasks", of(&study.tasks)),
        ("groups", of(&study.groups)),
        ("workers", of(&study.workers)),
    ]
}

/// Names that differ in capitals only are two for the program and one for whoever wrote them.
fn names_alike(what: &str, names: &[(&str, Span)], findings: &Findings) {
    let mut seen: HashMap<String, (&str, Span)> = HashMap::with_capacity(names.len());
    for &(name, span) in names {
        if let Some((first, before)) = seen.insert(name.to_lowercase(), (name, span)) {
            let message =
                format!("the {what} `{first}` and `{name}` differ in capitals only, and count as two");
            let help = "write the name in one way everywhere; two that are meant need names that a reader can tell apart";
            findings.report_at(&code::NAMES_ALIKE, vec![span, before], message, help);
        }
    }
}

/// Relative standard deviations between which tubes scatter.
const SCATTER: std::ops::RangeInclusive<f64> = 0.01..=0.50;

fn unlikely_scatter(study: &Study, findings: &Findings) {
    for (_, name, tube) in study.tubes.iter() {
        let Some(sd) = tube.relative_sd.filter(|sd| !SCATTER.contains(sd)) else { continue };
        let message = format!(
            "the readings of {name} are told to scatter by {} %, which is hardly what its sheet says",
            brief(100.0 * sd)
        );
        let help = "compare `relative_sd` with the tube sheet; most tubes lie between 5 % and 25 %";
        findings.report(&code::UNLIKELY_SCATTER, tube.span, message, help);
    }
}

/// Every substance of a mixture needs a TWA limit to be weighed by.
fn mixtures_without_limits(study: &Study, findings: &Findings) {
    for mixture in &study.additive {
        for &agent in mixture.agents.iter().filter(|&&agent| study.twa_limit(agent).is_none()) {
            let agent = study.agents.name(agent);
            let message = format!("{agent} has no TWA limit, so its part of the mixture cannot be weighed");
            let help =
                format!("add a limit: {{agent: {agent}, kind: twa, value: 20 ppm, source: national list}}");
            findings.report(&code::AGENT_WITHOUT_LIMIT, mixture.span, message, help);
        }
    }
}

fn mixtures_of_no_group(study: &Study, findings: &Findings) {
    if study.groups.has_faults() {
        return;
    }
    let assessed = |agents: &[Ref<Agent>]| {
        study.groups.iter().any(|(.., g)| agents.iter().all(|a| g.agents.contains(a)))
    };
    for mixture in study.additive.iter().filter(|mixture| !assessed(&mixture.agents)) {
        let name = study.mixture_name(mixture);
        let message = format!("no group is assessed for all of {name}, so this mixture has no index");
        let help = "add its substances to the `agents` of a group, or take the mixture away";
        findings.report(&code::MIXTURE_OF_NO_GROUP, mixture.span, message, help);
    }
}

fn agents_without_limits(study: &Study, findings: &Findings) {
    for (_, name, group) in study.groups.iter() {
        for &agent in group.agents.iter().filter(|&&a| study.limits.iter().all(|l| l.agent != a)) {
            let agent = study.agents.name(agent);
            let message = format!("group `{name}` is assessed for {agent}, which has no limit");
            let help =
                format!("add a limit: {{agent: {agent}, kind: twa, value: 20 ppm, source: national list}}");
            findings.report(&code::AGENT_WITHOUT_LIMIT, group.span, message, help);
        }
    }
}

/// Workers enrolled by a table may be more than the population that the group tells.
fn small_populations(study: &Study, findings: &Findings) {
    let mut enrolled: HashMap<Ref<Group>, usize> = HashMap::new();
    study.workers.iter().for_each(|(.., worker)| *enrolled.entry(worker.group).or_default() += 1);
    for (group, name, declared) in study.groups.iter() {
        let workers = enrolled.get(&group).copied().unwrap_or_default();
        if declared.population.is_some_and(|population| (population as usize) < workers) {
            let population = declared.population.unwrap_or_default();
            let message = format!("group `{name}` has a population of {population}, but {workers} workers");
            let help = "count everybody who belongs to the group, sampled or not";
            findings.report(&code::POPULATION_TOO_SMALL, declared.span, message, help);
        }
    }
}
