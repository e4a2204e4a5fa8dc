//! One row a group, agent and limit.

use super::columns::{counts, figure, numbers, texts};
use crate::model::Figure;
use crate::model::assessment::GroupResult;
use polars::prelude::{Column, DataFrame, NamedFrom, PolarsResult, Series};

/// The table of groups.
pub fn table(rows: &[GroupResult]) -> PolarsResult<DataFrame> {
    let mut columns = vec![
        texts("group", rows, |r| &r.group),
        texts("agent", rows, |r| &r.agent),
        texts("kind", rows, |r| r.kind.word()),
        numbers("limit", rows, |r| r.limit.value()),
        texts("unit", rows, |r| r.limit.unit()),
        counts("n", rows, |r| r.n),
        counts("censored", rows, |r| r.censored),
        counts("workers", rows, |r| r.workers.workers),
    ];
    for name in names(rows, |r| r.figures().map(|(name, _)| name).collect()) {
        columns.extend(figure(&name.replace('/', "_"), rows, |r| find(r, &name)));
    }
    columns.push(numbers("p95_upper_70", rows, |r| match find(r, "p95") {
        Some(Figure::Given(estimate)) => estimate.further.get("upper_70").copied(),
        _ => None,
    }));
    columns.push(texts("posterior_prior", rows, |r| &r.posterior.prior));
    for rule in names(rows, |r| r.verdicts.iter().map(|v| v.rule.to_owned()).collect()) {
        let said: Vec<&str> = rows
            .iter()
            .map(|r| r.verdicts.iter().find(|v| v.rule == rule).map_or("", |v| v.verdict.word()))
            .collect();
        let column: Column = Series::new(format!("rule_{}", rule.replace('-', "_")).into(), said).into();
        columns.push(column);
    }
    DataFrame::new_infer_height(columns)
}

fn find<'a>(row: &'a GroupResult, name: &str) -> Option<&'a Figure> {
    row.figures().find(|(known, _)| known == name).map(|(_, figure)| figure)
}

/// The names that occur in any row, in the order in which they first do.
pub fn names<T>(rows: &[T], of: impl Fn(&T) -> Vec<String>) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for name in rows.iter().flat_map(of) {
        if !list.contains(&name) {
            list.push(name);
        }
    }
    list
}
