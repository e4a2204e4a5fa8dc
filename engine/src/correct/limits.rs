//! The limits in the unit of the figures, lowered for long shifts where the user asked for it.

use super::convert::Converter;
use crate::model::shift::Shift;
use crate::model::{Adjust, Limit, LimitValues, Study, Tube};
use fullshift_stats::compliance::{daily_reduction, lead_style_reduction, weekly_reduction};

/// Every limit of the study, and how far it is lowered in every shift.
pub fn limits(study: &Study, shifts: &[Shift]) -> LimitValues {
    let reductions =
        |limit: &Limit| shifts.iter().map(|shift| reduction(limit.adjust, shift, study)).collect();
    LimitValues {
        entered: study.limits.iter().map(|limit| in_unit(limit, study)).collect(),
        reductions: study.limits.iter().map(reductions).collect(),
    }
}

/// The factor from the unit of each tube's scale to that of its agent's figures, in the order of the tubes.
pub fn tube_factors(study: &Study) -> Vec<f64> {
    let factor = |tube: &Tube| {
        let molar_mass = study.agents[tube.agent].molar_mass;
        let converter = Converter::new(tube.unit, study.unit(tube.agent), molar_mass, &study.reference);
        // The check step has made sure that the molar mass is known where it is needed.
        converter.map_or(1.0, |c| c.factor)
    };
    study.tubes.iter().map(|(.., tube)| factor(tube)).collect()
}

fn in_unit(limit: &Limit, study: &Study) -> f64 {
    let molar_mass = study.agents[limit.agent].molar_mass;
    let converter = Converter::new(limit.value.unit, study.unit(limit.agent), molar_mass, &study.reference);
    // The check step has made sure that the molar mass is known where it is needed.
    limit.value.value * converter.map_or(1.0, |c| c.factor)
}

/// By how much a limit is lowered on the scale of the TWA over the reference period. A lowered limit is meant for the mean
/// over the hours worked, which is the TWA times reference over hours [Brief-Scala-1975; 29 CFR 1910.1025(c)(2)].
fn reduction(adjust: Adjust, shift: &Shift, study: &Study) -> f64 {
    let minutes: f64 = shift.blocks.iter().map(|block| block.minutes.0).sum();
    let day = minutes / 60.0;
    let week = study.shift.week.map_or(40.0, |week| week.0 / 60.0);
    let factor = match adjust {
        Adjust::None => return 1.0,
        Adjust::Daily => daily_reduction(day),
        Adjust::Weekly => weekly_reduction(week),
        Adjust::LeadStyle => lead_style_reduction(day),
    };
    // The check step has made sure that no shift lasts longer than a day, the reader that no week is longer than one.
    // A short week would raise the limit by its formula; it is meant to lower one.
    (factor.unwrap_or(1.0) * (minutes / study.shift.reference.0).max(1.0)).min(1.0)
}
