//! One row a group, agent and limit.

use super::columns::{counts, figure, names, numbers, texts, upper_70, verdicts};
use crate::model::Figure;
use crate::model::assessment::GroupResult;
use polars::prelude::{DataFrame, PolarsResult};

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
        columns.extend(figure(&name.replace(['/', '-'], "_"), rows, |r| find(r, &name)));
    }
    columns.push(upper_70(rows, |r| find(r, "p95")));
    columns.push(texts("posterior_prior", rows, |r| &r.posterior.prior));
    columns.extend(verdicts(rows, |r| &r.verdicts));
    DataFrame::new_infer_height(columns)
}

fn find<'a>(row: &'a GroupResult, name: &str) -> Option<&'a Figure> {
    row.figures().find(|(known, _)| known == name).map(|(_, figure)| figure)
}
