//! The chance that a short-term window in which no tube was drawn exceeded its limit.

use crate::model::shift::{Reason, TaskExposure, Unmeasured, Window};
use crate::model::{Concentration, Minutes, Study};
use fullshift_stats::Result;
use fullshift_stats::censored::{InvariantLimits, Limits, Observation, Quantity, Sample};
use fullshift_stats::complete::{LogSample, exceedance};

const CONFIDENCE: f64 = 0.95;

/// The chance for the task of the highest window, from the distribution of its readings in this shift. Each reading stands for
/// one window; a whole window varies less than a short tube, so the chance is no smaller than the true one in the long run.
/// The error says why there is none.
pub fn of_shift(
    study: &Study,
    tasks: &[TaskExposure],
    window: &std::result::Result<Window, Reason>,
    averaging: Minutes,
    limit: f64,
    concentrations: &[Concentration],
) -> std::result::Result<Unmeasured, Reason> {
    let window = window.as_ref().map_err(Clone::clone)?;
    let longest = window.readings.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    let (reading, _) = longest.ok_or("no tube stands in the highest window")?;
    let task = study.readings[concentrations[*reading].reading].task;
    let task =
        tasks.iter().find(|t| Some(t.task) == task).ok_or("the task of the highest window has no mean")?;
    let windows = (task.minutes / averaging.0 - task.readings.len() as f64).max(0.0);
    let readings: Vec<(f64, f64)> =
        task.readings.iter().map(|&i| concentrations[i].interval).map(|i| (i.low(), i.high())).collect();
    if readings.len() < 2 {
        let name = study.tasks.name(task.task);
        return Err(format!("{name} has one reading, which shows no spread; at least two are needed").into());
    }
    let limits = share_above(&readings, limit).map_err(|error| error.to_string())?;
    let one = [limits.estimate, limits.lower, limits.upper].map(|end| end.value());
    let [Some(estimate), lower, upper] = one else {
        return Err("the readings set the chance no bound".into());
    };
    let one = [estimate, lower.unwrap_or(0.0), upper.unwrap_or(1.0)];
    // 1 - (1 - p)^k without the loss of small chances.
    let any = one.map(|p| -f64::exp_m1(windows * f64::ln_1p(-p.min(1.0))));
    Ok(Unmeasured { task: task.task, windows, one, any })
}

fn share_above(readings: &[(f64, f64)], limit: f64) -> Result<Limits> {
    use fullshift_stats::censored::Limit::At;
    if readings.iter().all(|(low, high)| low == high) {
        let values: Vec<f64> = readings.iter().map(|(low, _)| *low).collect();
        let sample = LogSample::from_values(&values)?;
        return Ok(Limits {
            estimate: At(exceedance::estimate(&sample, limit)?),
            lower: At(exceedance::lower(&sample, limit, CONFIDENCE)?),
            upper: At(exceedance::upper(&sample, limit, CONFIDENCE)?),
        });
    }
    let observed: Vec<Observation> =
        readings.iter().map(|&(low, high)| Observation::between(low, high)).collect::<Result<_>>()?;
    InvariantLimits::new(&Sample::new(&observed)?)?.limits(Quantity::Exceedance(limit), CONFIDENCE)
}
