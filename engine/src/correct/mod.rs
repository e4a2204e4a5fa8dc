//! Step 3, correct: one tube reading into a concentration interval at the tube, with its chain of corrections.

mod chain;
mod convert;
mod factor;
mod limits;

pub use convert::{conversion_in_words, converted};
pub use limits::limits;

use crate::model::{Concentration, Purpose, Study};

/// Relative standard deviation of a detector tube whose sheet gives none [NIOSH-77-173].
pub const DEFAULT_RELATIVE_SD: f64 = 0.14;

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
