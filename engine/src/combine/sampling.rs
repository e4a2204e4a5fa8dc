//! How far a mean over time may be from the true one, when only short readings were taken in it.

use crate::model::shift::{Basis, Reason, Sampling, SamplingBasis, TaskExposure};
use crate::model::{Concentration, Interval, Minutes, Study, Unsampled, brief, brief_range};
use fullshift_stats::censored::Observation;
use fullshift_stats::shares;
use fullshift_stats::strata::{Note, StrataMean, Stratum, mean_of_all_below};

/// One-sided confidence of every limit.
const CONFIDENCE: f64 = 0.95;

/// The tasks of a shift as strata of a mean over time. What their readings tell together, the spread above all, is found once.
pub struct OfTasks<'a> {
    tasks: &'a [TaskExposure],
    concentrations: &'a [Concentration],
    reference: Minutes,
    /// `None` where the readings leave it open.
    mean: Option<StrataMean>,
}

impl<'a> OfTasks<'a> {
    /// Over the reference period, of tasks that have their own limits already.
    pub fn of(
        tasks: &'a [TaskExposure],
        reference: Minutes,
        concentrations: &'a [Concentration],
    ) -> OfTasks<'a> {
        let mean = StrataMean::new(&strata(tasks, reference.0, concentrations)).ok();
        OfTasks { tasks, concentrations, reference, mean }
    }

    /// What some of the tasks add to the mean, as their readings have it.
    fn range(&self, wanted: impl Fn(usize) -> bool) -> Interval {
        let own = self.tasks.iter().enumerate().filter(|(place, _)| wanted(*place));
        let dose = own.fold(Interval::ZERO, |sum, (_, task)| sum.plus(task.mean.times(task.minutes)));
        dose.times(1.0 / self.reference.0)
    }

    /// Limits of the mean, which is the TWA.
    pub fn twa(&self, study: &Study) -> Result<Sampling, Reason> {
        let name = |place: usize| study.tasks.name(self.tasks[place].task).to_owned();
        let mut found = limits(self.range(|_| true), self.mean.as_ref(), name)?;
        if found.basis == SamplingBasis::Spread {
            let below = |place: &usize| is_below_throughout(&self.tasks[*place], self.concentrations);
            found.notes.extend((0..self.tasks.len()).filter(below).map(|place| {
                format!("{} lay below the first mark throughout; how high its mean may be is told by the spread of the other tasks", name(place))
            }));
        }
        Ok(found)
    }

    /// The limits of each task's share of the dose, from those of what it adds and of the rest; the error says why a share has none.
    pub fn shares(&self) -> Vec<Result<(f64, f64), Reason>> {
        let share = |place: usize| {
            let (own, rest) = (self.part(|other| other == place)?, self.part(|other| other != place)?);
            match (own[2] == 0.0, rest[2] == 0.0) {
                (true, _) => Ok((0.0, 0.0)),
                (_, true) => Ok((1.0, 1.0)),
                _ => shares::between(own, rest)
                    .map_err(|_| "the dose or the rest may be nothing at all".into()),
            }
        };
        (0..self.tasks.len()).map(share).collect()
    }

    /// What some of the tasks add to the mean: the middle and its limits.
    fn part(&self, wanted: impl Fn(usize) -> bool) -> Result<[f64; 3], String> {
        let unknown = || "too few tubes to know how the air varied".to_owned();
        let middle = self.range(&wanted).middle();
        let middle = middle.ok_or("a stain went past the last mark, so the dose has no upper end")?;
        let limits = self.mean.as_ref().ok_or_else(unknown)?.limits_of_part(wanted, CONFIDENCE);
        let (lower, upper) = limits.map_err(|error| error.to_string())?.ok_or_else(unknown)?;
        Ok([middle, lower.min(middle), upper.max(middle)])
    }
}

/// Limits of the index of a mixture: one sum over the tasks of all its substances, each weighed by its limit. Every part
/// is the substance, its tasks, its limit.
pub fn of_mixture(
    study: &Study,
    parts: &[(&str, &[TaskExposure], f64)],
    index: Interval,
    concentrations: &[Concentration],
) -> Result<Sampling, Reason> {
    let weighed = |(_, tasks, limit): &(&str, &[TaskExposure], f64)| {
        strata(tasks, study.shift.reference.0 * limit, concentrations)
    };
    let names: Vec<String> = parts
        .iter()
        .flat_map(|(agent, tasks, _)| {
            tasks.iter().map(move |task| format!("{} ({agent})", study.tasks.name(task.task)))
        })
        .collect();
    let strata: Vec<Stratum> = parts.iter().flat_map(weighed).collect();
    limits(index, StrataMean::new(&strata).ok().as_ref(), |place| names[place].clone())
}

/// The tasks of a shift as strata of a sum of `mean x minutes / divisor`.
fn strata(tasks: &[TaskExposure], divisor: f64, concentrations: &[Concentration]) -> Vec<Stratum> {
    let cap = cap_of_unsampled(tasks);
    let mut strata: Vec<Stratum> =
        tasks.iter().map(|task| stratum(task, task.minutes / divisor, cap, concentrations)).collect();
    if !tasks.iter().any(|task| is_below_throughout(task, concentrations)) {
        return strata;
    }
    // Where no task shows a spread, the shift has no limits anyway.
    let Some(spread) = StrataMean::new(&strata).ok().and_then(|mean| mean.pooled_sd_ln()) else {
        return strata;
    };
    for (stratum, task) in strata.iter_mut().zip(tasks) {
        if let (Stratum::Bounded { high, .. }, true) = (stratum, is_below_throughout(task, concentrations)) {
            // The marks bound the readings and not the mean, of which the readings are few.
            let marks = task.readings.iter().map(|&i| concentrations[i].interval.high());
            let mark = marks.fold(0.0, f64::max);
            let mean = mean_of_all_below(mark, task.readings.len(), spread, CONFIDENCE);
            *high = high.max(mean.unwrap_or(f64::INFINITY));
        }
    }
    strata
}

/// Whether every reading of a task lay below the first mark: they show no level of their own.
fn is_below_throughout(task: &TaskExposure, concentrations: &[Concentration]) -> bool {
    let sampled = matches!(task.basis, Basis::Measured | Basis::Unsampled(Unsampled::Borrow));
    sampled && task.readings.iter().all(|&i| concentrations[i].interval.low() == 0.0)
}

/// Limits of a short-term window by the tubes' own error: `readings` with the minutes for which each stands.
pub fn of_window(
    readings: &[(usize, f64)],
    length: Minutes,
    mean: Interval,
    concentrations: &[Concentration],
) -> Result<Sampling, Reason> {
    let stratum = |&(i, minutes): &(usize, f64)| {
        let Concentration { interval, relative_sd, .. } = &concentrations[i];
        let reading = Observation::between(interval.low(), interval.high()).map_err(|e| e.to_string())?;
        let weight = minutes / length.0;
        Ok(Stratum::Sampled { weight, readings: vec![reading], relative_sd: Some(*relative_sd) })
    };
    let strata: Vec<Stratum> = readings.iter().map(stratum).collect::<Result<_, String>>()?;
    limits(mean, StrataMean::new(&strata).ok().as_ref(), |_| String::new())
}

/// The one-sided upper limit of one reading by its tube's own error; infinite past the last mark.
pub fn upper_of_reading(reading: &Concentration) -> f64 {
    let whole = [(0, 1.0)];
    let alone = std::slice::from_ref(reading);
    of_window(&whole, Minutes(1.0), reading.interval, alone).map_or(f64::INFINITY, |sampling| sampling.upper)
}

/// Limits of the mean of one task.
pub fn of_task(
    study: &Study,
    task: &TaskExposure,
    concentrations: &[Concentration],
) -> Result<Sampling, Reason> {
    let stratum = stratum(task, 1.0, None, concentrations);
    limits(task.mean, StrataMean::new(&[stratum]).ok().as_ref(), |_| study.tasks.name(task.task).to_owned())
}

/// How high the mean of a task without readings may be, by the rule that the highest task mean of the shift bounds it:
/// the highest upper limit of those means. `None` where none has one.
fn cap_of_unsampled(tasks: &[TaskExposure]) -> Option<f64> {
    let measured = tasks.iter().filter(|task| task.basis == Basis::Measured);
    let upper = measured.filter_map(|task| task.sampling.as_ref().ok());
    upper.filter(|s| s.basis == SamplingBasis::Spread).map(|s| s.upper).max_by(f64::total_cmp)
}

/// Limits of a mean over strata, of which `range` is known and each stratum is called by `name`; without a mean where the readings leave
/// it open.
fn limits(
    range: Interval,
    mean: Option<&StrataMean>,
    name: impl Fn(usize) -> String,
) -> Result<Sampling, Reason> {
    if range.high().is_infinite() {
        return Err("a stain went past the last mark, so there is no upper end".into());
    }
    let Some(mean) = mean else { return Ok(open(range)) };
    let notes: Vec<String> = mean.notes().iter().filter_map(|note| in_words(*note, &name)).collect();
    let basis = basis(mean);
    if basis == SamplingBasis::Open {
        return Ok(open(range));
    }
    let lower = mean.lower(CONFIDENCE).map_err(|e| e.to_string())?;
    let upper = mean.upper(CONFIDENCE).unwrap_or(f64::INFINITY);
    match range.middle().filter(|&middle| basis == SamplingBasis::Spread && !holds(lower, upper, middle)) {
        // A verdict by such limits would contradict the figure that it is about.
        Some(middle) => Err(format!(
            "the limits by a lognormal distribution, {}, leave out the mean of the readings, {}; it does not fit them, or the tubes were drawn for unlike times",
            brief_range(lower, upper),
            brief(middle)
        )
        .into()),
        None => Ok(Sampling { confidence: CONFIDENCE, lower, upper, basis, notes }),
    }
}

/// Whether limits hold a mean, rounding aside.
fn holds(lower: f64, upper: f64, mean: f64) -> bool {
    const ROUNDING: f64 = 1e-9;
    lower <= mean * (1.0 + ROUNDING) && mean * (1.0 - ROUNDING) <= upper
}

/// Where the ranges of the readings leave the spread open, all that is known is where the mean of the readings lies.
fn open(range: Interval) -> Sampling {
    let notes = vec!["the ranges of the readings leave their spread open".to_owned()];
    let (lower, upper) = (range.low(), range.high());
    Sampling { confidence: CONFIDENCE, lower, upper, basis: SamplingBasis::Open, notes }
}

fn basis(mean: &StrataMean) -> SamplingBasis {
    let unmeasured = mean.notes().iter().any(|n| matches!(n, Note::MeasurementOnly | Note::AllReadingsEqual));
    match mean.pooled_sd_ln() {
        Some(_) => SamplingBasis::Spread,
        None if unmeasured => SamplingBasis::Measurement,
        None => SamplingBasis::Open,
    }
}

fn stratum(task: &TaskExposure, weight: f64, cap: Option<f64>, concentrations: &[Concentration]) -> Stratum {
    let readings = || task.readings.iter().map(|&i| concentrations[i].interval);
    let bounded =
        |high: f64| Stratum::Bounded { weight, low: task.mean.low(), high: high.max(task.mean.high()) };
    match task.basis {
        Basis::Unsampled(Unsampled::Zero) => Stratum::Known { weight, mean: 0.0 },
        Basis::Unsampled(Unsampled::Bounds) | Basis::NothingToBorrow => bounded(cap.unwrap_or(0.0)),
        _ if is_below_throughout(task, concentrations) => bounded(0.0),
        Basis::Measured | Basis::Unsampled(Unsampled::Borrow) => {
            let observed: Result<Vec<_>, _> =
                readings().map(|r| Observation::between(r.low(), r.high())).collect();
            let relative_sd =
                task.readings.iter().map(|&i| concentrations[i].relative_sd).fold(0.0, f64::max);
            match observed {
                Ok(readings) => Stratum::Sampled { weight, readings, relative_sd: Some(relative_sd) },
                Err(_) => bounded(0.0),
            }
        }
    }
}

fn in_words(note: Note, name: impl Fn(usize) -> String) -> Option<String> {
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
