//! What the study decides about its field work, and what the rules say of each reading.

use super::Ref;
use super::study::Tube;
use crate::diagnose::{Action, Code, Decision, Span};

/// What the study decides about the readings that a finding names.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldRule {
    /// The finding.
    pub code: &'static Code,
    /// What becomes of the readings, and why.
    pub decision: Decision,
}

/// A tube that was drawn or broken and could not be read.
#[derive(Debug, Clone, PartialEq)]
pub struct SpoiledTube {
    /// Name of its row.
    pub id: String,
    /// Tube type.
    pub tube: Ref<Tube>,
    /// Lot.
    pub lot: Option<String>,
    /// Remark.
    pub note: Option<String>,
    /// Its row.
    pub span: Span,
}

/// What a rule about the field work says of one reading: that it is qualified or rejected.
#[derive(Debug, Clone, PartialEq)]
pub struct Remark {
    /// The rule.
    pub code: &'static Code,
    /// What becomes of the reading: never `Ignore`.
    pub action: Action,
    /// The study's reason, where it decided.
    pub reason: Option<String>,
}

/// The remarks on every reading, by its number.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Remarks(Vec<Vec<Remark>>);

impl Remarks {
    /// No remark yet on any of so many readings.
    pub fn on(readings: usize) -> Remarks {
        Remarks(vec![Vec::new(); readings])
    }

    /// Adds a remark; one rule speaks once of a reading.
    pub fn add(&mut self, reading: usize, remark: Remark) {
        let known = &mut self.0[reading];
        if known.iter().all(|other| other.code.id != remark.code.id) {
            known.push(remark);
        }
    }

    /// The remarks on a reading.
    pub fn of(&self, reading: usize) -> &[Remark] {
        &self.0[reading]
    }

    /// The remark that rejects a reading, if one does.
    pub fn rejection(&self, reading: usize) -> Option<&Remark> {
        self.of(reading).iter().find(|remark| remark.action == Action::Reject)
    }

    /// Whether a reading is kept with a rule's name beside it.
    pub fn is_qualified(&self, reading: usize) -> bool {
        self.rejection(reading).is_none() && !self.of(reading).is_empty()
    }
}

/// Leak checks that the readings needed: one for each pump, tube type and day or night.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LeakCheckCount {
    /// How many were needed.
    pub needed: usize,
    /// How many of these were done and passed.
    pub done: usize,
}

/// What the check step found out beside its findings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FieldWork {
    /// The remarks on every reading.
    pub remarks: Remarks,
    /// Leak checks done against needed.
    pub leak_checks: LeakCheckCount,
}
