//! The index of a mixture: the sum of TWA over limit.

use super::{Depth, NOT_ASKED, sampling};
use crate::model::shift::{MixtureExposure, MixturePart, Reason, Shift, ShiftExposure};
use crate::model::{Concentration, Interval, LimitValues, Study};
use rayon::prelude::*;

/// The index of every mixture in every shift whose group is assessed for all its substances, in the order of the shifts.
pub fn mixtures(
    study: &Study,
    shifts: &[Shift],
    exposures: &[ShiftExposure],
    limits: &LimitValues,
    concentrations: &[Concentration],
    depth: Depth,
) -> Vec<MixtureExposure> {
    let of_shift = |own: &[ShiftExposure]| -> Vec<MixtureExposure> {
        let agents = &study.groups[shifts[own[0].shift].group].agents;
        let whole =
            |&number: &usize| study.additive[number].agents.iter().all(|agent| agents.contains(agent));
        let numbers = (0..study.additive.len()).filter(whole);
        numbers.map(|number| index(study, number, own, limits, concentrations, depth)).collect()
    };
    exposures.par_chunk_by(|a, b| a.shift == b.shift).flat_map_iter(of_shift).collect()
}

fn index(
    study: &Study,
    number: usize,
    own: &[ShiftExposure],
    limits: &LimitValues,
    concentrations: &[Concentration],
    depth: Depth,
) -> MixtureExposure {
    let shift = own[0].shift;
    // The check step has made sure that every substance of a mixture has a TWA limit.
    let found = study.additive[number].agents.iter().filter_map(|&agent| {
        let exposure = own.iter().find(|exposure| exposure.agent == agent)?;
        Some((agent, exposure, limits.in_shift(study.twa_limit(agent)?, shift)))
    });
    let found: Vec<_> = found.collect();
    let parts: Vec<MixturePart> = found
        .iter()
        .map(|&(agent, exposure, limit)| MixturePart {
            agent,
            limit,
            ratio: exposure.twa.clone().map(|twa| twa.times(1.0 / limit)),
        })
        .collect();
    let index = sum(study, &parts);
    let sampling = index.clone().and_then(|index| {
        if depth == Depth::Figures {
            return Err(NOT_ASKED.into());
        }
        let weighed: Vec<_> = found
            .iter()
            .map(|&(agent, exposure, limit)| (study.agents.name(agent), exposure.tasks.as_slice(), limit))
            .collect();
        sampling::of_mixture(study, &weighed, index, concentrations)
    });
    MixtureExposure { shift, mixture: number, index, sampling, parts }
}

fn sum(study: &Study, parts: &[MixturePart]) -> Result<Interval, Reason> {
    parts.iter().try_fold(Interval::ZERO, |sum, part| match &part.ratio {
        Ok(ratio) => Ok(sum.plus(*ratio)),
        Err(reason) => Err(format!("{}: {reason}", study.agents.name(part.agent)).into()),
    })
}
