//! Findings as the user meets them: in full by `check`, a line each beside an assessment, or as JSON.

mod count;
mod full;
mod lines;

pub(crate) use count::{count, severity};
pub(crate) use full::full;
pub(crate) use lines::lines;

use fullshift_engine::diagnose::Report;
use serde::Serialize;

/// Version of the JSON form.
const FORMAT_VERSION: u32 = 1;

/// Findings for another program.
#[derive(Serialize)]
pub(crate) struct Listed<'a> {
    format_version: u32,
    findings: &'a [Report],
}

/// The findings in the form for another program.
pub(crate) fn listed(findings: &[Report]) -> Listed<'_> {
    Listed { format_version: FORMAT_VERSION, findings }
}

#[cfg(test)]
pub(crate) mod samples {
    use fullshift_engine::diagnose::{Place, Report, Severity};

    /// A finding at one place of `readings.csv`.
    pub(crate) fn finding(severity: Severity, line: u32, column: u32, excerpt: &str) -> Report {
        Report {
            code: "F307",
            name: "bad-cell",
            severity,
            message: "`abc` is no number of strokes".to_owned(),
            help: "write a number above 0, as 1 or 0.5".to_owned(),
            decision: None,
            places: vec![Place {
                file: "readings.csv".to_owned(),
                line,
                column,
                length: 3,
                excerpt: excerpt.to_owned(),
                excerpt_mark: column.saturating_sub(1),
                ..Place::default()
            }],
        }
    }
}
