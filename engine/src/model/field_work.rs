//! What the study decides about its field work, and what the rules say of each reading.

use super::Ref;
use super::tube::Tube;
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

/// The remarks on every reading, by its number: the rules that speak of any, and for each reading which of them speak of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Remarks {
    rules: Vec<Remark>,
    of: Vec<u64>,
    /// Which rules reject.
    rejecting: u64,
}

impl Remarks {
    /// No remark yet on any of so many readings.
    pub fn on(readings: usize) -> Remarks {
        Remarks { rules: Vec::new(), of: vec![0; readings], rejecting: 0 }
    }

    /// Adds the remark of a rule; one rule speaks once of a reading, and says the same of all. There are fewer than 64 rules.
    pub fn add(&mut self, reading: usize, code: &'static Code, remark: impl FnOnce() -> Remark) {
        let known = self.rules.iter().position(|rule| std::ptr::eq(rule.code, code));
        let number = known.unwrap_or_else(|| {
            let (remark, number) = (remark(), self.rules.len());
            self.rejecting |= u64::from(remark.action == Action::Reject) << number;
            self.rules.push(remark);
            number
        });
        self.of[reading] |= 1 << number;
    }

    /// The remarks on a reading, in the order of their codes.
    pub fn of(&self, reading: usize) -> Vec<&Remark> {
        let speaks = |number: &usize| self.of[reading] >> number & 1 == 1;
        let mut remarks: Vec<&Remark> =
            (0..self.rules.len()).filter(speaks).map(|number| &self.rules[number]).collect();
        remarks.sort_by_key(|remark| remark.code.id);
        remarks
    }

    /// The remark that rejects a reading, if one does.
    pub fn rejection(&self, reading: usize) -> Option<&Remark> {
        match self.of[reading] & self.rejecting {
            0 => None,
            speaking => {
                let speaks = |number: &usize| speaking >> number & 1 == 1;
                let rejections = (0..self.rules.len()).filter(speaks).map(|number| &self.rules[number]);
                rejections.min_by_key(|rule| rule.code.id)
            }
        }
    }

    /// How many readings are qualified.
    pub fn qualified(&self) -> usize {
        (0..self.of.len()).filter(|&reading| self.is_qualified(reading)).count()
    }

    /// How many readings are rejected.
    pub fn rejected(&self) -> usize {
        (0..self.of.len()).filter(|&reading| self.of[reading] & self.rejecting != 0).count()
    }

    /// Whether a reading is kept with a rule's name beside it.
    pub fn is_qualified(&self, reading: usize) -> bool {
        self.of[reading] != 0 && self.of[reading] & self.rejecting == 0
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
