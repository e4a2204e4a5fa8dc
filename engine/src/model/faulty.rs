//! What of a study could not be read: faults that have been reported, so that what they lack is no news.

use super::Ref;
use super::study::Worker;
use std::collections::HashSet;

/// Parts of a study that could not be read in full.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Faulty {
    /// The limits.
    pub limits: bool,
    /// The diary.
    pub diary: FaultyDiary,
    /// The leak checks.
    pub leak_checks: bool,
}

/// Whose diary has faults.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FaultyDiary {
    /// That of these workers, if any.
    Of(HashSet<Ref<Worker>>),
    /// It cannot be told whose.
    Any,
}

impl Default for FaultyDiary {
    fn default() -> Self {
        FaultyDiary::Of(HashSet::new())
    }
}

impl FaultyDiary {
    /// Whether a worker's time may be missing from the diary.
    pub fn excuses(&self, worker: Ref<Worker>) -> bool {
        match self {
            FaultyDiary::Of(workers) => workers.contains(&worker),
            FaultyDiary::Any => true,
        }
    }

    /// Whether there is any fault.
    pub fn is_faulty(&self) -> bool {
        *self != FaultyDiary::default()
    }
}
