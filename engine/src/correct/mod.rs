//! Step 3, correct: one tube reading into a concentration interval at the tube, with its chain of corrections.

mod chain;
mod convert;
mod factor;
mod limits;

pub use chain::working;
pub use convert::{conversion_in_words, converted};
pub use limits::{limits, tube_factors};

use crate::model::{Concentration, Purpose, Remarks, Study};

/// The concentration behind every reading, in the order of the readings.
pub fn readings(study: &Study, remarks: &Remarks) -> Vec<Concentration> {
    (0..study.readings.len()).map(|number| concentration(study, remarks, number)).collect()
}

/// The same without the readings that a rule qualifies; `None` where there are none of them in any figure.
pub fn without_qualified(concentrations: &[Concentration], remarks: &Remarks) -> Option<Vec<Concentration>> {
    let leaves = |c: &Concentration| c.why_not.is_none() && remarks.is_qualified(c.reading);
    concentrations.iter().any(leaves).then(|| {
        let without = |c: &Concentration| match leaves(c) {
            true => Concentration {
                why_not: Some("left out with the qualified readings".to_owned()),
                ..c.clone()
            },
            false => c.clone(),
        };
        concentrations.iter().map(without).collect()
    })
}

fn concentration(study: &Study, remarks: &Remarks, number: usize) -> Concentration {
    let reading = &study.readings[number];
    let tube = &study.tubes[reading.tube];
    let why_not = match (remarks.rejection(number), reading.purpose) {
        (Some(remark), _) => {
            let reason = remark.reason.as_deref().unwrap_or("no reason given");
            Some(format!("rejected for {} {}: {reason}", remark.code.id, remark.code.name))
        }
        (None, Purpose::Random) => None,
        (None, other) => Some(format!("drawn as {}, not at a random time on a person", other.word())),
    };
    Concentration {
        reading: number,
        agent: tube.agent,
        interval: chain::correct(study, reading),
        drawn_minutes: tube.stroke_time.map(|time| time.0 * reading.strokes),
        relative_sd: tube.scatter(),
        why_not,
    }
}
