//! One row a shift and mixture.

use super::columns::{figure, texts};
use crate::model::assessment::MixtureResult;
use polars::prelude::{DataFrame, PolarsResult};

/// The table of mixtures.
pub fn table(rows: &[MixtureResult]) -> PolarsResult<DataFrame> {
    let mut columns = vec![
        texts("shift", rows, |r| &r.shift),
        texts("worker", rows, |r| &r.worker),
        texts("group", rows, |r| &r.group),
        texts("start", rows, |r| &r.start),
        texts("mixture", rows, |r| &r.mixture),
    ];
    columns.extend(figure("index", rows, |r| Some(&r.index)));
    columns.push(texts("verdict", rows, |r| r.verdict.word()));
    columns.push(texts("because", rows, |r| &r.because));
    DataFrame::new_infer_height(columns)
}
