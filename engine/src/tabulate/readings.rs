//! One row a reading.

use super::columns::{joined, numbers, texts};
use crate::model::assessment::ReadingResult;
use polars::prelude::{DataFrame, PolarsResult};

/// The table of readings.
pub fn table(rows: &[ReadingResult]) -> PolarsResult<DataFrame> {
    DataFrame::new_infer_height(vec![
        texts("id", rows, |r| &r.id),
        texts("worker", rows, |r| r.worker.as_deref().unwrap_or("")),
        texts("shift", rows, |r| r.shift.as_deref().unwrap_or("")),
        texts("task", rows, |r| r.task.as_deref().unwrap_or("")),
        texts("agent", rows, |r| &r.agent),
        texts("tube", rows, |r| &r.tube),
        texts("start", rows, |r| &r.start),
        numbers("drawn_minutes", rows, |r| r.drawn_minutes),
        texts("stain", rows, |r| &r.stain),
        texts("purpose", rows, |r| r.purpose),
        texts("unit", rows, |r| r.unit),
        numbers("low", rows, |r| Some(r.low)),
        numbers("high", rows, |r| r.high),
        texts("used", rows, |r| if r.used { "yes" } else { "no" }),
        texts("why_not", rows, |r| r.why_not.as_deref().unwrap_or("")),
        joined("qualified_by", rows, |r| &r.qualified_by),
    ])
}
