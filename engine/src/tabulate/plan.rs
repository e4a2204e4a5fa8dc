//! The tables of a plan: whom, when, with what, and what it can settle.

use super::columns::{counts, numbers, texts};
use crate::model::plan::{GroupPlan, LimitOutlook, Plan, TubeNeed, TubeUse};
use polars::prelude::{DataFrame, PolarsResult};

/// One row a worker drawn.
pub fn workers(plan: &Plan) -> PolarsResult<DataFrame> {
    let rows: Vec<(&GroupPlan, usize, String)> = plan
        .groups
        .iter()
        .flat_map(|group| group.drawn.iter().map(move |drawn| (group, drawn.number, drawn.called())))
        .collect();
    DataFrame::new_infer_height(vec![
        texts("group", &rows, |(group, ..)| &group.group),
        texts("worker", &rows, |(.., called)| called),
        counts("number_on_roster", &rows, |(_, number, _)| *number),
        counts("population", &rows, |(group, ..)| group.population),
        counts("seed", &rows, |_| plan.wishes.seed as usize),
    ])
}

/// One row a tube to be drawn.
pub fn times(plan: &Plan) -> PolarsResult<DataFrame> {
    let rows: Vec<_> = plan
        .groups
        .iter()
        .flat_map(|group| group.visits.iter().map(move |visit| (group, visit)))
        .flat_map(|(group, visit)| visit.times.iter().map(move |time| (group, visit, time)))
        .flat_map(|(group, visit, time)| time.tubes.iter().map(move |tube| (group, visit, time, tube)))
        .collect();
    DataFrame::new_infer_height(vec![
        texts("group", &rows, |(group, ..)| &group.group),
        texts("worker", &rows, |(_, visit, ..)| &visit.worker),
        texts("shift_as", &rows, |(_, visit, ..)| visit.shift_as.as_deref().unwrap_or("")),
        texts("at", &rows, |(_, _, time, _)| &time.at),
        numbers("minutes_into_shift", &rows, |(_, _, time, _)| Some(time.minutes)),
        texts("task", &rows, |(_, _, time, _)| time.task.as_deref().unwrap_or("")),
        texts("tube", &rows, |(.., tube)| &tube.tube),
        numbers("strokes", &rows, |(.., tube)| Some(tube.strokes)),
    ])
}

/// One row a tube type.
pub fn tubes(plan: &Plan) -> PolarsResult<DataFrame> {
    let of = |group| move |need| (group, need);
    let joined = |need: &TubeNeed, part: fn(&TubeUse) -> Vec<String>| -> String {
        let mut parts: Vec<String> = need.uses.iter().flat_map(part).collect();
        parts.dedup();
        parts.join("; ")
    };
    let strokes = |drawn: &TubeUse| vec![format!("{} x {}", drawn.draws, drawn.strokes)];
    let rows: Vec<(&GroupPlan, &TubeNeed, String, String)> = plan
        .groups
        .iter()
        .flat_map(|group| group.tubes.iter().map(of(group)))
        .map(|(group, need)| {
            (group, need, joined(need, strokes), joined(need, |drawn| drawn.remarks.clone()))
        })
        .collect();
    DataFrame::new_infer_height(vec![
        texts("group", &rows, |(group, ..)| &group.group),
        texts("tube", &rows, |(_, need, ..)| &need.tube),
        texts("agent", &rows, |(_, need, ..)| &need.agent),
        counts("draws", &rows, |(_, need, ..)| need.draws),
        counts("spares", &rows, |(_, need, ..)| need.spares),
        counts("box_size", &rows, |(_, need, ..)| need.box_size),
        counts("boxes", &rows, |(_, need, ..)| need.boxes),
        texts("draws_by_strokes", &rows, |(_, _, strokes, _)| strokes),
        texts("remarks", &rows, |(.., remarks)| remarks),
    ])
}

/// One row a limit, rule and number of shifts.
pub fn chances(plan: &Plan) -> PolarsResult<DataFrame> {
    let rows: Vec<_> = plan
        .groups
        .iter()
        .flat_map(|group| group.outlooks.iter().map(move |outlook| (group, outlook)))
        .flat_map(|(group, outlook)| outlook.rules.iter().map(move |rule| (group, outlook, rule)))
        .flat_map(|(group, outlook, rule): (&GroupPlan, &LimitOutlook, _)| {
            outlook
                .shifts
                .iter()
                .zip(&rule.chances)
                .map(move |(n, chance)| (group, outlook, rule, *n, *chance))
        })
        .collect();
    DataFrame::new_infer_height(vec![
        texts("group", &rows, |(group, ..)| &group.group),
        texts("agent", &rows, |(_, outlook, ..)| &outlook.agent),
        texts("kind", &rows, |(_, outlook, ..)| outlook.kind.word()),
        numbers("gm", &rows, |(_, outlook, ..)| Some(outlook.gm)),
        numbers("gsd", &rows, |(_, outlook, ..)| Some(outlook.gsd)),
        texts("rule", &rows, |(_, _, rule, ..)| rule.rule),
        counts("shifts", &rows, |(_, _, _, n, _)| *n),
        numbers("chance_below", &rows, |(.., chance)| *chance),
    ])
}
