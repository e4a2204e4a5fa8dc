//! One row a group, agent and limit of an archive.

use super::columns::{counts, figure, names, numbers, texts, upper_70, verdicts};
use crate::model::Figure;
use crate::model::overview::GroupOutline;
use polars::prelude::{DataFrame, PolarsResult};

/// The table of groups.
pub fn table(rows: &[GroupOutline]) -> PolarsResult<DataFrame> {
    let mut columns = vec![
        texts("group", rows, |r| &r.group),
        texts("agent", rows, |r| &r.agent),
        texts("kind", rows, |r| r.kind.word()),
        numbers("limit", rows, |r| r.limit.value()),
        texts("unit", rows, |r| r.limit.unit()),
        counts("readings", rows, |r| r.readings),
        counts("qualified", rows, |r| r.qualified),
        counts("shifts", rows, |r| r.shifts),
        counts("n", rows, |r| r.n),
        counts("censored", rows, |r| r.censored),
        counts("workers", rows, |r| r.workers),
    ];
    let figures =
        |r: &GroupOutline| r.profile.iter().chain(&r.fit).map(|(name, _)| (*name).to_owned()).collect();
    for name in names(rows, figures) {
        columns.extend(figure(&name, rows, |r| find(r, &name)));
    }
    columns.push(upper_70(rows, |r| find(r, "p95")));
    columns.extend(verdicts(rows, |r| &r.verdicts));
    DataFrame::new_infer_height(columns)
}

fn find<'a>(row: &'a GroupOutline, name: &str) -> Option<&'a Figure> {
    row.profile.iter().chain(&row.fit).find(|(known, _)| *known == name).map(|(_, figure)| figure)
}
