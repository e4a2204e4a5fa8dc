//! How far a mean over time may be from the true one, when only short readings were taken in it.

use crate::model::shift::{Basis, Sampling, SamplingBasis, TaskExposure};
use crate::model::{Concentration, Interval, Minutes, Study, Unsampled};
use fullshift_stats::censored::Observation;
use fullshift_stats::strata::{Note, StrataMean, Stratum};

/// One-sided confidence of every limit.
const CONFIDENCE: f64 = 0.95;

/// Limits of the TWA of a shift over the reference period.
pub fn of_shift(
    study: &Study,
    tasks: &[TaskExposure],
    reference: Minutes,
    concentrations: &[Concentration],
) -> Result<Sampling, String> {
    limits(study, tasks, |task| task.minutes / reference.0, concentrations)
}

/// Limits of the mean of one task.
pub fn of_task(
    study: &Study,
    task: &TaskExposure,
    concentrations: &[Concentration],
) -> Result<Sampling, String> {
    limits(study, std::slice::from_ref(task), |_| 1.0, concentrations)
}

fn limits(
    study: &Study,
    tasks: &[TaskExposure],
    weight: impl Fn(&TaskExposure) -> f64,
    concentrations: &[Concentration],
) -> Result<Sampling, String> {
    if tasks.iter().any(|task| task.mean.high().is_infinite()) {
        return Err("a stain went past the last mark, so there is no upper end".to_owned());
    }
    let strata = |end: End| -> Vec<Stratum> {
        tasks.iter().map(|task| stratum(task, weight(task), end, concentrations)).collect()
    };
    match StrataMean::new(&strata(End::Both)) {
        Ok(mean) => of_means(&[mean], study, tasks),
        // Ranges can leave the spread of the tasks open; then the limits take them at their middles and upper ends.
        Err(_) => {
            let means = [End::Middle, End::Upper].map(|end| StrataMean::new(&strata(end)));
            let means = means.into_iter().collect::<Result<Vec<_>, _>>().map_err(|e| e.to_string())?;
            let mut sampling = of_means(&means, study, tasks)?;
            sampling.notes.push(
                "the ranges leave the spread open; the limits hold for ranges at their middles and at their upper ends"
                    .to_owned(),
            );
            Ok(sampling)
        }
    }
}

/// Which end of a range a reading is taken at.
#[derive(Clone, Copy, PartialEq)]
enum End {
    Both,
    Middle,
    Upper,
}

/// The limits that hold for every one of the means.
fn of_means(means: &[StrataMean], study: &Study, tasks: &[TaskExposure]) -> Result<Sampling, String> {
    let lower = means.iter().map(|mean| mean.lower(CONFIDENCE)).collect::<Result<Vec<_>, _>>();
    let upper = means.iter().map(|mean| mean.upper(CONFIDENCE)).collect::<Result<Vec<_>, _>>();
    let of_all = |note: &Note| in_words(*note, study, tasks);
    let mut notes: Vec<String> = means.iter().flat_map(|mean| mean.notes()).filter_map(of_all).collect();
    notes.dedup();
    Ok(Sampling {
        confidence: CONFIDENCE,
        lower: lower.map_err(|e| e.to_string())?.into_iter().fold(f64::INFINITY, f64::min),
        upper: upper.map_err(|e| e.to_string())?.into_iter().fold(0.0, f64::max),
        basis: basis(&means[0]),
        notes,
    })
}

fn basis(mean: &StrataMean) -> SamplingBasis {
    let unmeasured = mean.notes().iter().any(|n| matches!(n, Note::MeasurementOnly | Note::AllReadingsEqual));
    match mean.pooled_sd_ln() {
        Some(_) => SamplingBasis::Spread,
        None if unmeasured => SamplingBasis::Measurement,
        None => SamplingBasis::Bounds,
    }
}

fn stratum(task: &TaskExposure, weight: f64, end: End, concentrations: &[Concentration]) -> Stratum {
    let readings = || task.readings.iter().map(|&i| concentrations[i].interval);
    let bounded = Stratum::Bounded { weight, low: task.mean.low(), high: task.mean.high() };
    match task.basis {
        Basis::Unsampled(Unsampled::Zero) => Stratum::Known { weight, mean: 0.0 },
        Basis::Unsampled(Unsampled::Bounds) | Basis::NothingToBorrow => bounded,
        // Readings that are all below the first mark show no level of their own.
        Basis::Measured | Basis::Unsampled(Unsampled::Borrow) if readings().all(|r| r.low() == 0.0) => {
            bounded
        }
        Basis::Measured | Basis::Unsampled(Unsampled::Borrow) => {
            let observed: Result<Vec<_>, _> = readings().map(|r| observed(r, end)).collect();
            let relative_sd =
                task.readings.iter().map(|&i| concentrations[i].relative_sd).fold(0.0, f64::max);
            match observed {
                Ok(readings) => Stratum::Sampled { weight, readings, relative_sd: Some(relative_sd) },
                Err(_) => bounded,
            }
        }
    }
}

fn observed(range: Interval, end: End) -> fullshift_stats::Result<Observation> {
    match end {
        End::Both => Observation::between(range.low(), range.high()),
        End::Middle => Observation::exact(0.5 * (range.low() + range.high())),
        End::Upper => Observation::exact(range.high()),
    }
}

fn in_words(note: Note, study: &Study, tasks: &[TaskExposure]) -> Option<String> {
    let name = |place: usize| study.tasks.name(tasks[place].task);
    match note {
        Note::UnequalVariances => Some("the tasks differ in spread (Bartlett's test below 5 %)".to_owned()),
        Note::DominatedByTwoReadings { place } => Some(format!(
            "more than half of the mean rests on two readings of {}; only more readings help",
            name(place)
        )),
        Note::BorrowedVariance { place } => {
            Some(format!("{} has one reading and is given the spread of the other tasks", name(place)))
        }
        Note::MeasurementOnly => {
            Some("no task has two readings, so nothing is known of the spread over time".to_owned())
        }
        Note::AllReadingsEqual => {
            Some("all readings of each task are equal, so no spread over time shows".to_owned())
        }
    }
}
