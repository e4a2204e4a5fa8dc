//! Whether a lognormal distribution fits, whether the figures drift with time, and a limit that needs no distribution.

use super::middles::{labelled, middles};
use super::sampled::{CONFIDENCE, SHARE};
use super::working::{Values, from_values};
use crate::model::{Figure, Interval, brief};
use chrono::NaiveDateTime;
use fullshift_stats::Result;
use fullshift_stats::complete::order_statistics;
use fullshift_stats::fit::{mann_kendall, probability_plot_correlation, shapiro_wilk};

const NO_INTERVAL: &str = "a test statistic has no interval of its own";

/// A statistic of fit: its name, what it is, how it is computed, where from.
struct Statistic {
    name: &'static str,
    method: &'static str,
    formula: &'static str,
    source: &'static str,
    of: fn(&[f64], &[f64]) -> Result<f64>,
}

/// Every statistic takes the hours of the shifts and the points.
const STATISTICS: [Statistic; 4] = [
    Statistic {
        name: "shapiro_wilk_ln",
        method: "p-value of Shapiro and Wilk's test on the logarithms",
        formula: "W of ln x and its p-value by AS R94",
        source: "Royston-1995",
        of: |_, points| shapiro_wilk(&logarithms(points)).map(|test| test.p),
    },
    Statistic {
        name: "shapiro_wilk",
        method: "p-value of Shapiro and Wilk's test on the values",
        formula: "W of x and its p-value by AS R94",
        source: "Royston-1995",
        of: |_, points| shapiro_wilk(points).map(|test| test.p),
    },
    Statistic {
        name: "plot_correlation",
        method: "correlation of the lognormal probability plot",
        formula: "correlation of the ordered ln x with normal quantiles at the medians of the order statistics",
        source: "Filliben-1975",
        of: |_, points| probability_plot_correlation(&logarithms(points)),
    },
    Statistic {
        name: "trend",
        method: "p-value of Mann and Kendall's test for a trend in time",
        formula: "sum of the signs of all later minus earlier figures, against its distribution without a trend",
        source: "Mann-1945",
        of: |hours, points| mann_kendall(hours, points).map(|trend| trend.p),
    },
];

fn logarithms(points: &[f64]) -> Vec<f64> {
    points.iter().map(|x| x.ln()).collect()
}

/// The figures by name; `times` are the starts of the shifts, in the order of the values.
pub fn figures(values: &Values, times: &[NaiveDateTime], unit: &str) -> Vec<(&'static str, Figure)> {
    let points = middles(values.intervals());
    let hours: Vec<f64> = times.iter().map(|t| t.and_utc().timestamp() as f64 / 3600.0).collect();
    let figure = |statistic: &Statistic| match &points {
        Ok((points, all_points)) => match (statistic.of)(&hours, points) {
            Ok(value) => {
                Figure::without_interval(value, "", labelled(statistic.method, *all_points), NO_INTERVAL)
                    .with_trail(from_values(statistic.method, statistic.formula, statistic.source, values))
            }
            Err(error) => Figure::not_given(error.to_string()),
        },
        Err(reason) => Figure::not_given(reason.clone()),
    };
    let mut list: Vec<_> = STATISTICS.iter().map(|s| (s.name, figure(s))).collect();
    let steps = from_values(
        "95th percentile by rank",
        "the smallest ranked value that lies above 95 % of shifts with 95 % confidence, by the binomial distribution",
        "Hahn-Meeker-1991",
        values,
    );
    list.push(("p95_by_rank", percentile_by_rank(values.intervals(), unit).with_trail(steps)));
    list
}

/// What an overview needs of these: the test of the logarithms, and the percentile by rank.
pub fn in_short(values: &Values, unit: &str) -> Vec<(&'static str, Figure)> {
    let test = match middles(values.intervals()) {
        Ok((points, all_points)) => match shapiro_wilk(&logarithms(&points)) {
            Ok(test) => {
                let method = labelled(STATISTICS[0].method, all_points);
                Figure::without_interval(test.p, "", method, NO_INTERVAL)
            }
            Err(error) => Figure::not_given(error.to_string()),
        },
        Err(reason) => Figure::not_given(reason),
    };
    vec![(STATISTICS[0].name, test), ("p95_by_rank", percentile_by_rank(values.intervals(), unit))]
}

/// The 95th percentile's upper limit by rank, which needs no distribution.
fn percentile_by_rank(values: &[Interval], unit: &str) -> Figure {
    if values.is_empty() {
        return Figure::not_given("no shift has a figure");
    }
    if let Some(open) = values.iter().find(|v| v.high().is_infinite()) {
        return Figure::not_given(format!(
            "a shift figure has no upper end (at least {})",
            brief(open.low())
        ));
    }
    let highs: Vec<f64> = values.iter().map(|v| v.high()).collect();
    let lows: Vec<f64> = values.iter().map(|v| v.low()).collect();
    let lower = order_statistics::percentile_lower(&lows, SHARE, CONFIDENCE).ok().flatten();
    match order_statistics::percentile_upper(&highs, SHARE, CONFIDENCE) {
        Ok(Some(limit)) => {
            let method = format!("limits by rank; upper: value {} of {} from below", limit.rank, highs.len());
            let only =
                "by rank there is no estimate between the limits; the upper one stands for it".to_owned();
            let ends = (lower.map(|lower| lower.value), Some(limit.value));
            Figure::estimate(limit.value, ends, limit.confidence, unit, method, Some(only))
        }
        Ok(None) => {
            Figure::not_given(format!("{} shifts are too few for a limit by rank; it needs 59", highs.len()))
        }
        Err(error) => Figure::not_given(error.to_string()),
    }
}
