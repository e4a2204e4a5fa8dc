//! A study whose tables are too long to be kept: read portion by portion, each the rows of some of its groups.
//!
//! What is declared stands once; every group becomes a [`Study`] of its own with the rows of its workers, so that the steps that
//! follow see nothing unusual. Rows may stand in any order. Where those of a group lie together, every piece of a table is
//! read but a few times; where they are scattered, once for every portion.

mod ids;
mod part;
mod portion;
mod rows;

pub use portion::Portion;

use super::Sources;
use super::study_file::Files;
use super::table::Wanted;
use super::tables::{self, diary};
use crate::diagnose::{FileId, Findings, Span};
use crate::model::{Group, LeakCheck, Pump, Ref, Study};
use ids::Ids;
use part::Part;
use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

/// A study and where the rows of its tables lie.
pub struct Archive {
    /// What is declared; no rows.
    declared: Study,
    readings: Vec<Part>,
    diary: Vec<Part>,
    /// How the diary tells its times.
    told: diary::Told,
    leak_checks: HashMap<Ref<Pump>, Vec<LeakCheck>>,
    /// What the readings seen so far are called.
    ids: Mutex<Ids>,
}

impl Archive {
    /// Opens the tables of a study; `None` with findings where they cannot be read.
    pub fn open(
        mut declared: Study,
        files: &Files,
        sources: &mut Sources,
        findings: &Findings,
    ) -> Option<Archive> {
        tables::read_workers(files, &mut declared, sources, findings);
        tables::read_leak_checks(files, &mut declared, sources, findings);
        let mut parts = |wanted: &Option<Wanted>| part::open(wanted.as_ref()?, sources, findings);
        let (readings, diary) = (parts(&files.readings), parts(&files.diary));
        let (readings, diary) = (readings?, diary?);
        let told =
            diary.first().map_or(Some(diary::Told::Clock), |part| diary::told(&part.columns, findings))?;
        let mut leak_checks: HashMap<Ref<Pump>, Vec<LeakCheck>> = HashMap::new();
        for check in std::mem::take(&mut declared.leak_checks) {
            leak_checks.entry(check.pump).or_default().push(check);
        }
        Some(Archive { declared, readings, diary, told, leak_checks, ids: Mutex::default() })
    }

    /// What the study declares.
    pub fn declared(&self) -> &Study {
        &self.declared
    }

    /// The place of its readings.
    pub fn span(&self) -> Span {
        self.readings.first().map_or(Span::File(FileId(0)), |part| part.columns.span())
    }

    /// Rows of its readings, about.
    pub fn rows(&self) -> usize {
        self.readings.iter().map(Part::rows).sum()
    }

    /// The groups in portions that fit into memory, in the order of the readings.
    pub fn portions(&self) -> Vec<Portion> {
        portion::of(&self.declared, &self.readings, &self.diary)
    }

    /// The portion of one group.
    pub fn portion_of(&self, group: Ref<Group>) -> Portion {
        portion::of_group(group, &self.declared, &self.readings, &self.diary)
    }

    /// The studies of the groups of a portion, in their order.
    pub fn studies(&self, portion: &Portion, findings: &Findings) -> Vec<(Ref<Group>, Study)> {
        rows::studies(self, portion, findings)
    }

    /// Reports names of readings that stand twice among all portions read so far.
    pub fn report_duplicates(&self, findings: &Findings) {
        let twice = self.ids.lock().unwrap_or_else(PoisonError::into_inner).twice();
        if !twice.is_empty() {
            ids::report(&twice, &self.readings, findings);
        }
    }
}
