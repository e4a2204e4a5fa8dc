//! A group in a few lines: the figures that its verdicts rest on, without their working.

use super::sampled::{Known, sample_of, told};
use super::working::Values;
use super::{Input, belief_about, chances, figures, fit, held_against, subject, workers};
use crate::model::profile::Outline;
use crate::model::{Figure, Group, LimitKind, Ref};
use std::collections::BTreeSet;

/// What the rules of a kind of limit ask for beside the figures of the profile.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Further {
    /// The chances under a prior.
    pub chances: bool,
    /// The variation between and within workers.
    pub between: bool,
}

/// The outlines of a group against every limit of its agents and 1 for every mixture, in their order.
pub fn outlines(input: &Input, group: Ref<Group>, further: impl Fn(LimitKind) -> Further) -> Vec<Outline> {
    let Input { study, shifts, .. } = input;
    let outline = |against| {
        let subject = subject(input, group, against);
        let further = further(subject.kind);
        let values: Vec<_> = subject.values.iter().map(|(_, value)| *value).collect();
        let by_worker: Vec<_> = subject.values.iter().map(|(s, v)| (shifts[*s].worker, *v)).collect();
        let shift_figures = Values::nameless(subject.unit, values.clone());
        let sample = sample_of(&values);
        let told = told(&values, &sample);
        let known = Known { values: &shift_figures, sample: &sample, told: &told };
        let (limit, unit) = (subject.limit, subject.unit);
        let bare = |list: Vec<(&'static str, Figure)>| {
            list.into_iter().map(|(name, figure)| (name, figure.without_trail())).collect()
        };
        let chances =
            further.chances.then(|| chances::chances(&known, limit, unit, belief_about(study, against)));
        let between = further.between.then(|| workers::between(&by_worker, &shift_figures, limit).figures);
        Outline {
            against,
            shifts: subject.values.iter().map(|(shift, _)| *shift).collect(),
            workers: by_worker.iter().map(|(worker, _)| *worker).collect::<BTreeSet<_>>().len(),
            figures: bare(figures::profile(&known, limit, unit)),
            fit: fit::in_short(&shift_figures, unit),
            prior: chances.as_ref().map_or(String::new(), |chances| chances.prior.clone()),
            flat: chances.as_ref().and_then(|c| c.flat.clone()).map_or(Vec::new(), |(_, list)| bare(list)),
            chances: chances.map_or(Vec::new(), |chances| bare(chances.figures)),
            between: between.map_or(Vec::new(), bare),
            values,
        }
    };
    held_against(study, group).map(outline).collect()
}
