//! One row a group, agent and limit of an archive.

use super::columns::{counts, figure, numbers, texts};
use super::groups::names;
use crate::model::Figure;
use crate::model::overview::GroupOutline;
use polars::prelude::{Column, DataFrame, NamedFrom, PolarsResult, Series};

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
    columns.push(numbers("p95_upper_70", rows, |r| match find(r, "p95") {
        Some(Figure::Given(estimate)) => estimate.further.get("upper_70").copied(),
        _ => None,
    }));
    for rule in names(rows, |r| r.verdicts.iter().map(|v| v.rule.to_owned()).collect()) {
        let said =
            |r: &GroupOutline| r.verdicts.iter().find(|v| v.rule == rule).map_or("", |v| v.verdict.word());
        let said: Vec<&str> = rows.iter().map(said).collect();
        let column: Column = Series::new(format!("rule_{}", rule.replace('-', "_")).into(), said).into();
        columns.push(column);
    }
    DataFrame::new_infer_height(columns)
}

fn find<'a>(row: &'a GroupOutline, name: &str) -> Option<&'a Figure> {
    row.profile.iter().chain(&row.fit).find(|(known, _)| *known == name).map(|(_, figure)| figure)
}
