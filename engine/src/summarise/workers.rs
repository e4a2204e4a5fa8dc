//! Between and within workers.

use super::middles::{labelled, middles};
use super::sampled::CONFIDENCE;
use super::working::{Values, from_values};
use crate::model::study::Worker;
use crate::model::{Figure, Interval, Ref};
use fullshift_stats::workers::{Bounded, Repeats, WorkersProfile, profile};
use std::collections::BTreeMap;

const NAMES: [&str; 6] =
    ["gsd_between", "gsd_within", "ratio_975_025", "share_over", "share_between", "homogeneity"];

/// The figures by name, and the workers who stand apart.
pub struct Between {
    /// Workers with at least one shift figure.
    pub workers: usize,
    /// The figures.
    pub figures: Vec<(&'static str, Figure)>,
    /// Workers whose own level stands apart from the group's.
    pub apart: Vec<Ref<Worker>>,
}

/// The variation between and within workers of shift figures, each with its worker, against a limit.
pub fn between(values: &[(Ref<Worker>, Interval)], sample: &Values, limit: f64) -> Between {
    let mut of_worker: BTreeMap<Ref<Worker>, Vec<Interval>> = BTreeMap::new();
    for (worker, value) in values {
        of_worker.entry(*worker).or_default().push(*value);
    }
    let workers: Vec<Ref<Worker>> = of_worker.keys().copied().collect();
    match analysed(&of_worker, limit) {
        Ok((found, all_points)) => Between {
            workers: workers.len(),
            figures: with_working(figures(&found, all_points), sample),
            apart: found.apart().into_iter().map(|i| workers[i]).collect(),
        },
        Err(reason) => {
            let figures = NAMES.map(|name| (name, Figure::not_given(reason.clone()))).into();
            Between { workers: workers.len(), figures, apart: Vec::new() }
        }
    }
}

fn analysed(
    of_worker: &BTreeMap<Ref<Worker>, Vec<Interval>>,
    limit: f64,
) -> Result<(WorkersProfile, bool), String> {
    if of_worker.len() < 2 || of_worker.values().all(|list| list.len() < 2) {
        return Err("two workers or more are needed, one of them with repeated shifts".to_owned());
    }
    let all: Vec<Interval> = of_worker.values().flatten().copied().collect();
    let (points, all_points) = middles(&all)?;
    let mut logs = points.iter().map(|x| x.ln());
    let groups: Vec<Vec<f64>> =
        of_worker.values().map(|list| logs.by_ref().take(list.len()).collect()).collect();
    let repeats = Repeats::of(&groups).map_err(|e| e.to_string())?;
    let found = profile(&repeats, Some(limit.ln()), CONFIDENCE).map_err(|e| e.to_string())?;
    Ok((found, all_points))
}

fn figures(found: &WorkersProfile, all_points: bool) -> Vec<(&'static str, Figure)> {
    let figure = |bounded: &Bounded, method: &str| bounded_figure(bounded, &labelled(method, all_points));
    let over = match &found.above_limit {
        Some(above) => figure(
            &above.share_percentile,
            "share of workers whose own 95th percentile lies above the limit; generalised pivots",
        ),
        None => Figure::not_given("no limit was given"),
    };
    let homogeneity = Figure::without_interval(
        found.anova.p_value,
        "",
        labelled("p-value of the F test that all workers share one level", all_points),
        "a test statistic has no interval of its own",
    );
    vec![
        ("gsd_between", figure(&found.gsd_between, "restricted maximum likelihood; generalised pivots")),
        ("gsd_within", figure(&found.gsd_within, "restricted maximum likelihood; exact limits")),
        ("ratio_975_025", figure(&found.ratio_975_025, "exp(3.92 ln GSD between); generalised pivots")),
        ("share_over", over),
        ("share_between", figure(&found.share_between, "restricted maximum likelihood; exact limits")),
        ("homogeneity", homogeneity),
    ]
}

fn with_working(figures: Vec<(&'static str, Figure)>, values: &Values) -> Vec<(&'static str, Figure)> {
    let steps = from_values(
        "between and within workers",
        "one-way random effects on ln x: a level for each worker about the group's, shifts about the worker's level",
        "handbook, page statistics-between-workers",
        values,
    );
    figures.into_iter().map(|(name, figure)| (name, figure.with_trail(steps.clone()))).collect()
}

fn bounded_figure(bounded: &Bounded, method: &str) -> Figure {
    match bounded.value {
        Ok(value) => {
            let reason = bounded.lower.err().or(bounded.upper.err()).map(|absent| absent.to_string());
            Figure::estimate(value, (bounded.lower.ok(), bounded.upper.ok()), CONFIDENCE, "", method, reason)
        }
        Err(absent) => Figure::not_given(absent.to_string()),
    }
}
