//! An archive as one value: the lines of its groups, and what was found, counted.

use crate::diagnose::{FileId, Finding, Findings, Severity, Span};
use crate::model::assessment::{FORMAT_VERSION, InputFile, Program};
use crate::model::overview::{FoundOften, GroupOutline, Overview};
use crate::model::{FieldWork, Study};
use std::collections::BTreeMap;

/// Errors that are kept; more of them say nothing new.
const ERRORS: usize = 200;

/// What has been gathered of the groups so far.
#[derive(Default)]
pub struct Gathered {
    groups: Vec<GroupOutline>,
    tally: BTreeMap<&'static str, Tally>,
    errors: Vec<Finding>,
    counts: Counts,
}

/// The rows of groups, counted.
#[derive(Debug, Clone, Copy, Default)]
pub struct Counts {
    /// Readings.
    pub readings: usize,
    /// Of these, qualified.
    pub qualified: usize,
    /// Of these, rejected.
    pub rejected: usize,
    /// Shifts.
    pub shifts: usize,
    /// Workers with a shift.
    pub workers: usize,
}

impl Counts {
    /// The rows of a group; its shifts come by worker.
    pub fn of(study: &Study, shifts: &[crate::model::shift::Shift], field_work: &FieldWork) -> Counts {
        let remarks = &field_work.remarks;
        Counts {
            readings: study.readings.len(),
            qualified: remarks.qualified(),
            rejected: remarks.rejected(),
            shifts: shifts.len(),
            workers: shifts.chunk_by(|a, b| a.worker == b.worker).count(),
        }
    }
}

struct Tally {
    places: usize,
    groups: usize,
    first: Finding,
}

impl Gathered {
    /// Takes the lines of a group.
    pub fn add(&mut self, lines: Vec<GroupOutline>, counts: Counts) {
        self.groups.extend(lines);
        self.counts.readings += counts.readings;
        self.counts.qualified += counts.qualified;
        self.counts.rejected += counts.rejected;
        self.counts.shifts += counts.shifts;
        self.counts.workers += counts.workers;
    }

    /// Takes what was found: in a group, or in the study as a whole.
    pub fn hear(&mut self, findings: Findings, of_group: bool) {
        let mut met: BTreeMap<&'static str, usize> = BTreeMap::new();
        for finding in findings.into_list() {
            let places = met.entry(finding.code.id).or_insert(0);
            *places += finding.spans.len() + finding.more;
            match finding.severity {
                Severity::Error if self.errors.len() < ERRORS => self.errors.push(finding),
                Severity::Error => {}
                _ => {
                    self.tally.entry(finding.code.id).or_insert_with(|| Tally {
                        places: 0,
                        groups: 0,
                        first: finding,
                    });
                }
            }
        }
        for (code, places) in met {
            if let Some(tally) = self.tally.get_mut(code) {
                tally.places += places;
                tally.groups += usize::from(of_group);
            }
        }
    }

    /// Whether an error was heard of.
    pub fn has_errors(&self) -> bool {
        !self.errors.is_empty()
    }

    /// Everything heard of, for a study that cannot be assessed.
    pub fn into_findings(self) -> Findings {
        let findings = Findings::default();
        let tallied = self.tally.into_values().map(|tally| tally.first);
        self.errors.into_iter().chain(tallied).for_each(|finding| findings.take(finding));
        findings
    }

    /// The whole; `resolve` gives a finding its places.
    pub fn into_overview(
        self,
        declared: &Study,
        conversion: String,
        inputs: Vec<InputFile>,
        mut resolve: impl FnMut(Finding) -> crate::diagnose::Report,
    ) -> Overview {
        let often = |mut tally: Tally| {
            let nowhere = Span::File(FileId(0));
            tally.first.spans = vec![tally.first.spans.first().copied().unwrap_or(nowhere)];
            FoundOften { places: tally.places, groups: tally.groups, first: resolve(tally.first) }
        };
        let mut findings: Vec<FoundOften> = self.tally.into_values().map(often).collect();
        findings.sort_by_key(|often| (often.first.severity, often.first.code));
        let order: BTreeMap<&str, usize> =
            declared.groups.names().enumerate().map(|(number, name)| (name, number)).collect();
        let mut groups = self.groups;
        groups.sort_by_key(|line| order.get(line.group.as_str()).copied());
        Overview {
            format_version: FORMAT_VERSION,
            program: Program { name: "fullshift", version: env!("CARGO_PKG_VERSION") },
            inputs,
            title: declared.title.clone(),
            site: declared.site.clone(),
            prepared_by: declared.prepared_by.clone(),
            conversion,
            readings: self.counts.readings,
            qualified: self.counts.qualified,
            rejected: self.counts.rejected,
            shifts: self.counts.shifts,
            workers: self.counts.workers,
            findings,
            groups,
        }
    }
}
