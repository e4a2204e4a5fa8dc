//! Step 3, correct: one tube reading into a concentration interval at the tube, with its chain of corrections.

mod chain;
mod convert;
mod factor;

pub use convert::{Converter, conversion_in_words, converted};

use crate::model::{Concentration, Limit, Purpose, Study};

/// Relative standard deviation of a detector tube whose sheet gives none [NIOSH-77-173].
pub const DEFAULT_RELATIVE_SD: f64 = 0.14;

/// Every limit of the study in the unit of its agent's figures, in the order of the limits.
pub fn limits(study: &Study) -> Vec<f64> {
    let in_unit = |limit: &Limit| {
        let molar_mass = study.agents[limit.agent].molar_mass;
        let converter =
            Converter::new(limit.value.unit, study.unit(limit.agent), molar_mass, &study.reference);
        // The check step has made sure that the molar mass is known where it is needed.
        limit.value.value * converter.map_or(1.0, |c| c.factor)
    };
    study.limits.iter().map(in_unit).collect()
}

/// The concentration behind every reading, in the order of the readings.
pub fn readings(study: &Study) -> Vec<Concentration> {
    study.readings.iter().enumerate().map(|(number, _)| concentration(study, number)).collect()
}

fn concentration(study: &Study, number: usize) -> Concentration {
    let reading = &study.readings[number];
    let tube = &study.tubes[reading.tube];
    let (interval, trail) = chain::correct(study, reading);
    let why_not = match reading.purpose {
        Purpose::Random => None,
        other => Some(format!("drawn as {}, not at a random time on a person", other.word())),
    };
    Concentration {
        reading: number,
        agent: tube.agent,
        interval,
        drawn_minutes: tube.stroke_time.map(|time| time.0 * reading.strokes),
        relative_sd: tube.relative_sd.unwrap_or(DEFAULT_RELATIVE_SD),
        why_not,
        trail,
    }
}
