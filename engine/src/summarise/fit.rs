//! Whether a lognormal distribution fits, and whether the figures drift with time.

use super::middles::{labelled, middles};
use super::sampled::{CONFIDENCE, SHARE};
use crate::model::{Figure, Interval};
use chrono::NaiveDateTime;
use fullshift_stats::complete::order_statistics;
use fullshift_stats::fit::{mann_kendall, probability_plot_correlation, shapiro_wilk};

const NO_INTERVAL: &str = "a test statistic has no interval of its own";

/// The figures of fit and trend by name; `times` are the starts of the shifts, in the order of the values.
pub fn figures(values: &[Interval], times: &[NaiveDateTime]) -> Vec<(&'static str, Figure)> {
    let names = ["shapiro_wilk_ln", "shapiro_wilk", "plot_correlation", "trend"];
    let (points, all_points) = match middles(values) {
        Ok(middles) => middles,
        Err(reason) => return names.map(|name| (name, Figure::not_given(reason.clone()))).into(),
    };
    let logs: Vec<f64> = points.iter().map(|x| x.ln()).collect();
    let hours: Vec<f64> = times.iter().map(|t| t.and_utc().timestamp() as f64 / 3600.0).collect();
    let figure = |result: fullshift_stats::Result<f64>, method: &str| match result {
        Ok(value) => Figure::without_interval(value, "", labelled(method, all_points), NO_INTERVAL),
        Err(error) => Figure::not_given(error.to_string()),
    };
    let all = [
        figure(
            shapiro_wilk(&logs).map(|t| t.p),
            "p-value of Shapiro and Wilk's test on the logarithms [Royston-1995]",
        ),
        figure(
            shapiro_wilk(&points).map(|t| t.p),
            "p-value of Shapiro and Wilk's test on the values [Royston-1995]",
        ),
        figure(
            probability_plot_correlation(&logs),
            "correlation of the lognormal probability plot [Filliben-1975]",
        ),
        figure(
            mann_kendall(&hours, &points).map(|t| t.p),
            "p-value of Mann and Kendall's test for a trend [Mann-1945]",
        ),
    ];
    names.into_iter().zip(all).collect()
}

/// The 95th percentile's upper limit by rank, which needs no distribution.
pub fn percentile_by_rank(values: &[Interval], unit: &str) -> Figure {
    if let Some(open) = values.iter().find(|v| v.high().is_infinite()) {
        return Figure::not_given(format!(
            "a shift figure has no upper end (at least {})",
            crate::model::brief(open.low())
        ));
    }
    let highs: Vec<f64> = values.iter().map(|v| v.high()).collect();
    match order_statistics::percentile_upper(&highs, SHARE, CONFIDENCE) {
        Ok(Some(limit)) => {
            let method = format!("upper limit by rank: value {} of {} from below", limit.rank, highs.len());
            Figure::estimate(
                limit.value,
                (None, Some(limit.value)),
                limit.confidence,
                unit,
                method,
                Some("an upper limit only".to_owned()),
            )
        }
        Ok(None) => {
            Figure::not_given(format!("{} shifts are too few for a limit by rank; it needs 59", highs.len()))
        }
        Err(error) => Figure::not_given(error.to_string()),
    }
}
