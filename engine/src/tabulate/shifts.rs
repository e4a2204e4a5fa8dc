//! One row a shift and agent.

use super::columns::{figure, numbers, texts};
use crate::model::assessment::{ComplianceResult, ShiftLimit, ShiftResult};
use crate::model::{Figure, LimitKind};
use polars::prelude::{DataFrame, PolarsResult};

/// The table of shifts; `shift_test` where the test of single shifts has columns.
pub fn table(rows: &[ShiftResult], shift_test: bool) -> PolarsResult<DataFrame> {
    let mut columns = vec![
        texts("shift", rows, |r| &r.shift),
        texts("worker", rows, |r| &r.worker),
        texts("group", rows, |r| &r.group),
        texts("start", rows, |r| &r.start),
        texts("end", rows, |r| r.end.as_deref().unwrap_or_default()),
        numbers("minutes", rows, |r| Some(r.minutes)),
        texts("agent", rows, |r| &r.agent),
        texts("unit", rows, |r| r.limits.first().map_or(r.twa.unit(), |l| l.limit.unit())),
        numbers("covered", rows, |r| Some(r.covered)),
    ];
    columns.extend(figure("twa", rows, |r| Some(&r.twa)));
    columns.extend(figure("twa_inside_respirators", rows, |r| r.twa_inside_respirators.as_ref()));
    columns.extend(figure("short_term", rows, |r| Some(&r.short_term)));
    columns.extend(figure("short_term_unmeasured", rows, |r| {
        first(r, LimitKind::ShortTerm).and_then(|l| l.unmeasured.as_ref()).map(|u| &u.any)
    }));
    columns.extend(figure("highest_reading", rows, |r| Some(&r.highest_reading)));
    for kind in [LimitKind::Twa, LimitKind::ShortTerm, LimitKind::Ceiling] {
        let word = kind.word().replace('-', "_");
        columns
            .push(numbers(&format!("{word}_limit"), rows, |r| first(r, kind).and_then(|l| l.limit.value())));
        columns
            .push(numbers(&format!("{word}_ratio"), rows, |r| first(r, kind).and_then(|l| ratio(&l.ratio))));
        columns.push(texts(&format!("{word}_verdict"), rows, |r| {
            first(r, kind).map_or("", |l| l.verdict.word())
        }));
    }
    if shift_test {
        columns.extend(figure("twa_shift_sae", rows, |r| compliance(r).map(|c| &c.ratio)));
        columns
            .push(texts("twa_shift_sae_verdict", rows, |r| compliance(r).map_or("", |c| c.verdict.word())));
    }
    DataFrame::new_infer_height(columns)
}

/// Whether the test of single shifts was asked for.
pub fn has_shift_test(rows: &[ShiftResult]) -> bool {
    rows.iter().any(|row| compliance(row).is_some())
}

/// The published test against the first TWA limit, where it was asked for.
fn compliance(row: &ShiftResult) -> Option<&ComplianceResult> {
    first(row, LimitKind::Twa)?.compliance.as_ref()
}

/// The first limit of a kind.
fn first(row: &ShiftResult, kind: LimitKind) -> Option<&ShiftLimit> {
    row.limits.iter().find(|l| l.kind == kind)
}

fn ratio(figure: &Figure) -> Option<f64> {
    figure.value().or(figure.low())
}
