//! What was declared: substances, groups, tube sheets, and the user's words for the report.

use super::{Found, limit_figure};
use crate::model::assessment::{AgentHead, GroupHead, LimitHead, StudyHead, TubeHead};
use crate::model::{Limit, LimitKind, Study, Tube};

/// The study's own statements.
pub fn of(found: &Found) -> StudyHead {
    let study = found.study;
    StudyHead {
        title: study.title.clone(),
        site: study.site.clone(),
        prepared_by: study.prepared_by.clone(),
        conversion: found.conversion.to_owned(),
        reference_minutes: study.shift.reference.0,
        agents: agents(study),
        limits: limits(found),
        groups: groups(study),
        tubes: study.tubes.iter().map(|(_, name, tube)| of_tube(study, name, tube)).collect(),
        report: study.report.clone(),
    }
}

fn agents(study: &Study) -> Vec<AgentHead> {
    let head = |(agent, name, declared): (_, &str, &crate::model::Agent)| AgentHead {
        agent: name.to_owned(),
        cas: declared.cas.clone(),
        molar_mass: declared.molar_mass,
        unit: study.unit(agent).symbol(),
    };
    study.agents.iter().map(head).collect()
}

fn limits(found: &Found) -> Vec<LimitHead> {
    let head = |(number, declared): (usize, &Limit)| LimitHead {
        agent: found.study.agents.name(declared.agent).to_owned(),
        kind: declared.kind,
        value: declared.value.value,
        unit: declared.value.unit.symbol(),
        in_figures: limit_figure(found, number),
        averaging_minutes: Some(declared.averaging.0).filter(|_| declared.kind == LimitKind::ShortTerm),
        at_most: declared.at_most,
        at_least_apart_minutes: declared.at_least_apart.map(|minutes| minutes.0),
        adjust: declared.adjust.word(),
        source: Some(declared.source.clone()).filter(|source| !source.trim().is_empty()),
    };
    found.study.limits.iter().enumerate().map(head).collect()
}

fn groups(study: &Study) -> Vec<GroupHead> {
    let head = |(group, name, declared): (_, &str, &crate::model::Group)| GroupHead {
        group: name.to_owned(),
        workers: study
            .workers
            .iter()
            .filter(|(.., worker)| worker.group == group)
            .map(|(_, name, _)| name.to_owned())
            .collect(),
        population: declared.population,
        agents: declared.agents.iter().map(|&agent| study.agents.name(agent).to_owned()).collect(),
    };
    study.groups.iter().map(head).collect()
}

fn of_tube(study: &Study, name: &str, tube: &Tube) -> TubeHead {
    TubeHead {
        tube: name.to_owned(),
        agent: study.agents.name(tube.agent).to_owned(),
        first_mark: tube.marks.first().copied(),
        last_mark: tube.marks.last().copied(),
        unit: tube.unit.symbol(),
        strokes: tube.strokes,
        relative_sd: tube.relative_sd,
        contains: tube.contains.clone(),
        readings: study.readings.iter().filter(|r| study.tubes.name(r.tube) == name).count(),
    }
}
