//! Shifts that are no part of their group's profile, each with the reason.

use super::Found;
use crate::model::assessment::LeftOut;
use crate::model::profile::{Against, GroupProfile};
use crate::model::shift::{Basis, MixtureExposure, Reason, ShiftExposure, TaskExposure};
use crate::model::{Limit, LimitKind, Unsampled};

const NO_TUBE: &str = "no tube was drawn in this shift that counts for it";
const ALL_ZERO: &str =
    "no tube was drawn, and all its tasks count as nothing on the user's word; that is no measurement";

/// Why a shift is left out that borrows most of its dose.
const BORROWED: &str =
    "more than half of its dose is told by tubes of other shifts, so that it would count those again";

/// The group's shifts that have no figure to be held against the limit.
pub fn of(found: &Found, profile: &GroupProfile) -> Vec<LeftOut> {
    let out = |shift: usize| {
        found.shifts[shift].group == profile.group && profile.values.iter().all(|(own, _)| *own != shift)
    };
    let left_out = |shift: usize, reason| LeftOut { shift: found.shifts[shift].name.clone(), reason };
    match profile.against {
        Against::Limit(number) => {
            let limit = &found.study.limits[number];
            let own = found.figures.exposures.iter().filter(|e| e.agent == limit.agent && out(e.shift));
            own.map(|e| left_out(e.shift, no_figure(e, limit))).collect()
        }
        Against::Mixture(number) => {
            let own = found.figures.mixtures.iter().filter(|m| m.mixture == number && out(m.shift));
            own.map(|m| left_out(m.shift, no_index(m))).collect()
        }
    }
}

/// Why a shift has no figure to be held against a limit.
fn no_figure(exposure: &ShiftExposure, limit: &Limit) -> String {
    let zero = |task: &TaskExposure| task.basis == Basis::Unsampled(Unsampled::Zero);
    if exposure.tasks.iter().all(zero) {
        return ALL_ZERO.to_owned();
    }
    if limit.kind == LimitKind::Twa && exposure.twa.is_ok() && exposure.is_mostly_borrowed() {
        return BORROWED.to_owned();
    }
    let window = exposure.windows.iter().find(|(length, _)| *length == limit.averaging);
    reason(match limit.kind {
        LimitKind::Twa => exposure.twa.as_ref().err(),
        LimitKind::ShortTerm => window.and_then(|(_, window)| window.as_ref().err()),
        LimitKind::Ceiling | LimitKind::Mixture => None,
    })
}

/// Why a shift has no index.
fn no_index(exposure: &MixtureExposure) -> String {
    exposure.index.as_ref().err().map_or_else(|| BORROWED.to_owned(), ToString::to_string)
}

fn reason(told: Option<&Reason>) -> String {
    told.map_or_else(|| NO_TUBE.to_owned(), ToString::to_string)
}
