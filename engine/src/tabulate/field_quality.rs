//! The field work in numbers, one row a count.

use super::columns::{counts, texts};
use crate::diagnose::Action;
use crate::model::field_quality::FieldQuality;
use polars::prelude::{DataFrame, PolarsResult};

/// A count with what it counts.
struct Row {
    what: &'static str,
    of: String,
    lot: String,
    count: usize,
    out_of: usize,
    note: String,
}

/// The table of the field work.
pub fn table(quality: &FieldQuality) -> PolarsResult<DataFrame> {
    let rows = rows(quality);
    DataFrame::new_infer_height(vec![
        texts("what", &rows, |r| r.what),
        texts("of", &rows, |r| &r.of),
        texts("lot", &rows, |r| &r.lot),
        counts("count", &rows, |r| r.count),
        counts("out_of", &rows, |r| r.out_of),
        texts("note", &rows, |r| &r.note),
    ])
}

fn rows(quality: &FieldQuality) -> Vec<Row> {
    let row = |what, count, out_of| Row {
        what,
        of: String::new(),
        lot: String::new(),
        count,
        out_of,
        note: String::new(),
    };
    let mut rows = Vec::new();
    for tube in &quality.tubes {
        let of_lot = |what, count| Row {
            of: tube.tube.clone(),
            lot: tube.lot.clone().unwrap_or_default(),
            ..row(what, count, tube.drawn)
        };
        rows.extend([
            of_lot("tubes drawn", tube.drawn),
            of_lot("tubes spoiled", tube.spoiled),
            of_lot("tubes qualified", tube.qualified),
            of_lot("tubes rejected", tube.rejected),
        ]);
    }
    rows.push(row("leak checks", quality.leak_checks_done, quality.leak_checks_needed));
    rows.push(row("readings qualified", quality.qualified, quality.readings));
    rows.push(row("readings rejected", quality.rejected, quality.readings));
    rows.extend(quality.rules.iter().map(|rule| Row {
        of: rule.name.to_owned(),
        note: rule.reason.clone().unwrap_or_default(),
        ..row(
            match rule.action {
                Action::Reject => "rejected by rule",
                Action::Qualify => "qualified by rule",
                Action::Ignore => "ignored rule",
            },
            rule.readings,
            quality.readings,
        )
    }));
    rows.extend(quality.to_dispose.iter().map(|spent| Row {
        of: spent.tube.clone(),
        note: spent.contains.clone().unwrap_or_default(),
        ..row("tubes to dispose of", spent.tubes, spent.tubes)
    }));
    rows
}
