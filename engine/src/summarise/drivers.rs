//! What drives the exposure of a group: the share of its dose by task, and what half of the largest one would change.

use super::figures;
use super::sampled::{CONFIDENCE, Known, sample_of, told};
use super::working::{Values, from_values};
use crate::model::profile::{Drivers, Halved};
use crate::model::shift::ShiftExposure;
use crate::model::study::Task;
use crate::model::{Figure, Interval, Minutes, Ref};
use fullshift_stats::shares::OfTotals;
use std::collections::BTreeMap;

/// A shift of the group: what its tasks brought, and the factor by which its limit is lowered.
pub struct Shift<'a> {
    /// The figures of the shift.
    pub exposure: &'a ShiftExposure,
    /// The factor of its limit.
    pub reduction: f64,
    /// The address of its TWA.
    pub address: String,
}

/// The drivers of a group's TWAs against a limit; `None` without a shift whose dose has an upper end.
pub fn drivers(
    shifts: &[Shift],
    address: &str,
    reference: Minutes,
    limit: f64,
    unit: &'static str,
) -> Option<Drivers> {
    let doses: Vec<BTreeMap<Ref<Task>, f64>> = shifts.iter().filter_map(|shift| doses(shift)).collect();
    let totals: Vec<f64> = doses.iter().map(|doses| doses.values().sum()).collect();
    let mut tasks: Vec<Ref<Task>> = doses.iter().flat_map(|doses| doses.keys().copied()).collect();
    tasks.sort_unstable();
    tasks.dedup();
    let parts = |task: Ref<Task>| doses.iter().map(move |doses| doses.get(&task).copied().unwrap_or(0.0));
    let whole: f64 = totals.iter().sum();
    let brought = |task: Ref<Task>| parts(task).sum::<f64>() / whole;
    let largest = tasks.iter().copied().max_by(|a, b| brought(*a).total_cmp(&brought(*b)).then(b.cmp(a)))?;
    if whole <= 0.0 {
        return None;
    }
    let values = Values::new(
        address.to_owned(),
        unit,
        shifts.iter().filter_map(|s| Some((s.address.clone(), s.exposure.twa.clone().ok()?))),
    );
    let share = |task: Ref<Task>| {
        share(&parts(task).collect::<Vec<f64>>(), &totals).with_trail(from_values(
        "share of the group's dose",
        "sum of the doses of the task over the sum of all doses, by middle values; limits from a ratio of two means over shifts, on the scale of the log odds",
        "Cochran-1977; handbook, page statistics-drivers",
        &values,
    ))
    };
    Some(Drivers {
        shares: tasks.iter().map(|&task| (task, share(task))).collect(),
        halved: halved(largest, shifts, address, reference, limit, unit),
    })
}

/// The dose of each task, by middle values; `None` where one has no upper end.
fn doses(shift: &Shift) -> Option<BTreeMap<Ref<Task>, f64>> {
    shift.exposure.twa.as_ref().ok()?;
    let dose =
        |task: &crate::model::shift::TaskExposure| Some((task.task, task.mean.middle()? * task.minutes));
    shift.exposure.tasks.iter().map(dose).collect()
}

fn share(parts: &[f64], totals: &[f64]) -> Figure {
    let method =
        "share of the dose of all shifts, by middle values; limits from a ratio of means over shifts";
    match OfTotals::new(parts, totals) {
        Ok(found) => {
            let ends = (found.lower(CONFIDENCE).ok(), found.upper(CONFIDENCE).ok());
            let open = ends.0.is_none().then(|| "a share of nothing or of all has no limits".to_owned());
            Figure::estimate(found.share(), ends, CONFIDENCE, "", method, open)
        }
        Err(_) => {
            let (part, whole): (f64, f64) = (parts.iter().sum(), totals.iter().sum());
            Figure::without_interval(part / whole, "", method, "one shift shows no spread of shares")
        }
    }
}

fn halved(
    task: Ref<Task>,
    shifts: &[Shift],
    address: &str,
    reference: Minutes,
    limit: f64,
    unit: &'static str,
) -> Halved {
    let twa = |shift: &Shift| {
        shift.exposure.twa.as_ref().ok()?;
        let dose = shift.exposure.tasks.iter().fold(Interval::ZERO, |sum, own| {
            let part = if own.task == task { 0.5 } else { 1.0 };
            sum.plus(own.mean.times(part * own.minutes))
        });
        Some((shift.address.clone(), dose.times(1.0 / reference.0 / shift.reduction)))
    };
    let values = Values::new(address.to_owned(), unit, shifts.iter().filter_map(twa));
    let sample = sample_of(values.intervals());
    let told = told(values.intervals(), &sample);
    let known = Known { values: &values, sample: &sample, told: &told };
    let mut figures = figures::profile(&known, limit, unit);
    let mut take = |name: &str| {
        let place = figures.iter().position(|(known, _)| *known == name);
        place.map_or_else(
            || Figure::not_given("it is no figure of the profile"),
            |place| figures.swap_remove(place).1,
        )
    };
    let steps = |figure: &Figure| {
        let inner = figure.trail().first().map_or(String::new(), |step| step.result.clone());
        let formula =
            "the profile of the TWAs with the mean of this task halved in every shift, all else as measured";
        let mut steps = from_values("half of the largest task", formula, "our own rule", &values);
        steps[0].result = inner;
        steps
    };
    let [p95, exceedance] = ["p95", "exceedance"].map(|name| {
        let figure = take(name);
        let trail = steps(&figure);
        figure.with_trail(trail)
    });
    Halved { task, p95, exceedance }
}
