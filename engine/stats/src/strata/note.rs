//! What the reader of an interval has to be told.

use super::combine::Form;
use super::equality::EqualityTest;
use super::part::Part;

/// The probability below which the spreads are called unequal.
const UNEQUAL: f64 = 0.05;

/// Something that weakens an interval. `place` is a stratum's place in the list given, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Note {
    /// Bartlett's test holds equal spreads to be improbable (below 5 %).
    UnequalVariances,
    /// More than half of the mean rests on a stratum with two readings; where the strata differ in spread the upper limit then misses
    /// more often than promised.
    DominatedByTwoReadings {
        /// The stratum.
        place: usize,
    },
    /// The stratum has no spread of its own (one reading) and borrows that of the others; nothing in the data can tell whether it fits.
    BorrowedVariance {
        /// The stratum.
        place: usize,
    },
    /// No stratum has two readings: the interval holds the measurement error alone.
    MeasurementOnly,
    /// The readings of every stratum are all equal: the interval holds the measurement error alone.
    AllReadingsEqual,
}

pub(super) fn notes(parts: &[Part], form: &Form, equality: Option<EqualityTest>) -> Vec<Note> {
    let mut notes = Vec::new();
    if equality.is_some_and(|test| test.p_value < UNEQUAL) {
        notes.push(Note::UnequalVariances);
    }
    for (part, &(place, share)) in parts.iter().zip(&form.shares) {
        if part.own.is_none() {
            notes.push(Note::BorrowedVariance { place });
        }
        if parts.len() > 1 && share > 0.5 && part.readings == 2 {
            notes.push(Note::DominatedByTwoReadings { place });
        }
    }
    notes
}
