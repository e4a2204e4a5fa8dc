//! What comes of a check.

use crate::diagnose::Report;
use crate::model::overview::FoundOften;
use crate::model::shift::Shift;
use crate::model::{Overview, Study};

/// A study that could be read, with what was found in it.
#[derive(Debug)]
pub struct Checked {
    /// Everything found, errors first.
    pub findings: Vec<Report>,
    /// Whether an error among them keeps the study from being assessed.
    pub stopped: bool,
    /// What was read, in words, as `12 readings`, in the order of the files.
    pub contents: Vec<String>,
    /// The groups of a study that could be read whole.
    pub groups: Vec<String>,
}

impl Checked {
    pub(crate) fn of_archive(overview: Option<Overview>) -> Checked {
        let Some(overview) = overview else {
            return Checked {
                findings: Vec::new(),
                stopped: false,
                contents: Vec::new(),
                groups: Vec::new(),
            };
        };
        let contents = [
            counted(overview.readings, "reading", "readings"),
            counted(overview.shifts, "shift", "shifts"),
            counted(overview.workers, "worker", "workers"),
        ];
        let told = |often: FoundOften| Report {
            message: match often.places {
                0 | 1 => often.first.message,
                places => format!("{}; met at {places} places in all", often.first.message),
            },
            ..often.first
        };
        let findings = overview.findings.into_iter().map(told).collect();
        Checked { findings, stopped: false, contents: contents.into(), groups: Vec::new() }
    }
}

/// A study that cannot be assessed; at least one finding is an error.
#[derive(Debug)]
pub struct Stopped {
    /// Everything found, errors first.
    pub findings: Vec<Report>,
}

fn counted(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

/// What was read, in words.
pub(crate) fn contents(study: &Study, shifts: &[Shift]) -> Vec<String> {
    let spoiled =
        (!study.spoiled.is_empty()).then(|| counted(study.spoiled.len(), "spoiled tube", "spoiled tubes"));
    let others = [
        counted(shifts.len(), "shift", "shifts"),
        counted(study.workers.len(), "worker", "workers"),
        counted(study.leak_checks.len(), "leak check", "leak checks"),
    ];
    let readings = counted(study.readings.len(), "reading", "readings");
    [readings].into_iter().chain(spoiled).chain(others).collect()
}
