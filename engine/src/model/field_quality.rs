//! How well the field work was done, as part of an assessment.

use super::figure::Figure;
use super::limit::LimitKind;
use super::profile::Verdict;
use crate::diagnose::Action;
use serde::Serialize;

/// The field work of a study in numbers.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct FieldQuality {
    /// Tubes by type and lot.
    pub tubes: Vec<TubeCount>,
    /// Tubes that broke or could not be read.
    pub spoiled: Vec<SpoiledResult>,
    /// Leak checks that the readings needed: one for each pump, tube type and day or night.
    pub leak_checks_needed: usize,
    /// Of these, those done and passed.
    pub leak_checks_done: usize,
    /// Readings in all.
    pub readings: usize,
    /// Of these, qualified: kept in the figures with the name of a rule beside them.
    pub qualified: usize,
    /// Of these, rejected by the study.
    pub rejected: usize,
    /// What each rule did, and what the study decided about it.
    pub rules: Vec<RuleCount>,
    /// What the verdicts would be without the qualified readings; `None` where there are none.
    pub without_qualified: Option<WithoutQualified>,
    /// Spent tubes by type.
    pub to_dispose: Vec<Disposal>,
    /// What to heed when they are disposed of.
    pub disposal_caution: &'static str,
}

/// Tubes of one type and lot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeCount {
    /// Tube type.
    pub tube: String,
    /// Lot, where it was told.
    pub lot: Option<String>,
    /// Tubes used, spoiled ones among them.
    pub drawn: usize,
    /// Of these, spoiled.
    pub spoiled: usize,
    /// Of these, qualified by a rule.
    pub qualified: usize,
    /// Of these, rejected by the study.
    pub rejected: usize,
}

/// A tube that broke or could not be read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpoiledResult {
    /// Name of its row.
    pub id: String,
    /// Tube type.
    pub tube: String,
    /// Lot.
    pub lot: Option<String>,
    /// The user's remark.
    pub note: Option<String>,
}

/// What a rule about the field work did.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RuleCount {
    /// Its code.
    pub code: &'static str,
    /// Its name.
    pub name: &'static str,
    /// What becomes of the readings it names.
    #[serde(rename = "do")]
    pub action: Action,
    /// The study's reason, where it decided.
    pub reason: Option<String>,
    /// Readings that it qualifies or rejects.
    pub readings: usize,
}

/// Spent tubes of one type.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Disposal {
    /// Tube type.
    pub tube: String,
    /// How many.
    pub tubes: usize,
    /// What the tube sheet says they contain.
    pub contains: Option<String>,
}

/// What the verdicts would be without the qualified readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WithoutQualified {
    /// Readings that the figures would then rest on.
    pub readings_left: usize,
    /// Verdicts on groups that would be other.
    pub groups: Vec<GroupChange>,
    /// Verdicts on single shifts that would be other.
    pub shifts: Vec<ShiftChange>,
}

/// A verdict on a group that would be another.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupChange {
    /// The group.
    pub group: String,
    /// The substance.
    pub agent: String,
    /// Kind of limit.
    pub kind: LimitKind,
    /// The limit in the agent's unit.
    pub limit: Figure,
    /// The rule.
    pub rule: &'static str,
    /// The verdict with all readings.
    pub verdict: Verdict,
    /// The verdict without the qualified ones.
    pub without: Verdict,
    /// Why it would be that.
    pub because: String,
}

/// A verdict on a shift that would be another.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShiftChange {
    /// The shift.
    pub shift: String,
    /// The substance.
    pub agent: String,
    /// Kind of limit.
    pub kind: LimitKind,
    /// The limit of that shift in the agent's unit.
    pub limit: Figure,
    /// The verdict with all readings.
    pub verdict: Verdict,
    /// The verdict without the qualified ones.
    pub without: Verdict,
    /// Why it would be that.
    pub because: String,
}
