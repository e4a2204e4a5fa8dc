//! The indices of mixtures.

use super::figures::{ONE_SHIFT, figure_of, sampled_figure, sampling_step};
use super::shifts::begun;
use super::{Found, address};
use crate::judge;
use crate::model::assessment::{MixtureResult, PartResult};
use crate::model::shift::{MixtureExposure, MixturePart};
use crate::model::{Figure, Input, Step, shown, shown_range};

/// The index of every shift and mixture, in the order of the shifts.
pub fn results(found: &Found) -> Vec<MixtureResult> {
    found.figures.mixtures.iter().map(|exposure| result(found, exposure)).collect()
}

fn result(found: &Found, exposure: &MixtureExposure) -> MixtureResult {
    let (study, shift) = (found.study, &found.shifts[exposure.shift]);
    let judged = judge::mixture(&exposure.index, &exposure.sampling);
    MixtureResult {
        shift: shift.name.clone(),
        worker: study.workers.name(shift.worker).to_owned(),
        group: study.groups.name(shift.group).to_owned(),
        start: begun(study, shift),
        mixture: study.mixture_name(&study.additive[exposure.mixture]),
        index: index(found, exposure),
        notes: exposure.sampling.as_ref().map_or(Vec::new(), |s| s.notes.clone()),
        parts: exposure.parts.iter().map(|part| part_result(found, part)).collect(),
        verdict: judged.verdict,
        because: judged.because,
    }
}

fn index(found: &Found, exposure: &MixtureExposure) -> Figure {
    let index = match &exposure.index {
        Ok(index) => *index,
        Err(reason) => return Figure::not_given(reason.clone()),
    };
    let step = Step {
        name: "index of the mixture".to_owned(),
        formula: "sum of TWA / limit over its substances".to_owned(),
        inputs: exposure.parts.iter().map(|part| input(found, exposure, part)).collect(),
        result: shown_range(index.low(), index.high()),
        source: "OSHA-1910.1000(d)(2)",
    };
    let steps = vec![step].into_iter().chain(sampling_step(&exposure.sampling, "")).collect();
    sampled_figure(index, &exposure.sampling, "", "sum of TWA over limit").with_trail(steps)
}

fn input(found: &Found, exposure: &MixtureExposure, part: &MixturePart) -> Input {
    let (study, shift) = (found.study, &found.shifts[exposure.shift]);
    let unit = study.unit(part.agent).symbol();
    let twa = part
        .ratio
        .as_ref()
        .map_or("none".to_owned(), |ratio| shown_range(ratio.low() * part.limit, ratio.high() * part.limit));
    Input::new(
        study.agents.name(part.agent),
        format!("{twa} {unit} / {} {unit}", shown(part.limit)),
        address(study, shift, part.agent, "twa"),
    )
}

fn part_result(found: &Found, part: &MixturePart) -> PartResult {
    PartResult {
        agent: found.study.agents.name(part.agent).to_owned(),
        ratio: match &part.ratio {
            Ok(ratio) => figure_of(*ratio, "", "TWA over limit", ONE_SHIFT),
            Err(reason) => Figure::not_given(reason.clone()),
        },
    }
}
