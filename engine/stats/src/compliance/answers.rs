//! Answers for the published tables of compliance tests and long shifts.

use super::{
    Component, Finding, Ratio, Sample, consecutive_samples, consecutive_samples_uniform,
    consecutive_samples_varying, daily_reduction, few_grab_samples, lead_style_reduction, many_grab_samples,
    mixture, sampling_error, single_sample, weekly_reduction,
};
use crate::complete::LogSample;
use crate::strata::equal_variances;
use crate::verify::{Answer, Inputs};
use crate::{Error, Result};
use serde_json::{Map, Value, json};

/// One sample over the full period; the error given, or from a relative standard deviation.
pub(crate) fn shift_single(inputs: &Inputs) -> Answer {
    let error = match inputs.number_if_any("relative_sd") {
        Some(cv) => sampling_error(cv, 0.95)?,
        None => inputs.number("error")?,
    };
    Ok(ratio(single_sample(inputs.number("found")?, inputs.number("limit")?, error)?))
}

/// Consecutive samples in the forms for which the row has inputs.
pub(crate) fn shift_consecutive(inputs: &Inputs) -> Answer {
    let (minutes, found) = (inputs.numbers("minutes")?, inputs.numbers("found")?);
    let limit = inputs.number("limit")?;
    let samples: Vec<Sample> = minutes
        .iter()
        .zip(found)
        .map(|(&minutes, concentration)| Sample { minutes, concentration })
        .collect();
    if let Some(error) = inputs.number_if_any("error") {
        return Ok(ratio(consecutive_samples(&samples, limit, error)?));
    }
    let cv = inputs.number("relative_sd")?;
    Ok(json!({
        "uniform": ratio(consecutive_samples_uniform(&samples, limit, cv, 0.95)?),
        "varying": ratio(consecutive_samples_varying(&samples, limit, cv, 0.95)?),
    }))
}

/// Grab samples: the statistics the manual plots, and the exact limits.
pub(crate) fn shift_grab(inputs: &Inputs) -> Answer {
    let (values, limit) = (inputs.numbers("x")?, inputs.number("limit")?);
    if values.len() >= 30 {
        return Ok(ratio(many_grab_samples(&values, limit, 0.95)?));
    }
    let ratios: Vec<f64> = values.iter().map(|x| x / limit).collect();
    let sample = LogSample::from_values(&ratios)?;
    let mut answer = ratio(few_grab_samples(&values, limit, 0.95)?);
    answer["mean_log10"] = json!(sample.mean_ln() / std::f64::consts::LN_10);
    answer["sd_log10"] = json!(sample.sd_ln() / std::f64::consts::LN_10);
    Ok(answer)
}

/// The index of a mixture.
pub(crate) fn shift_mixture(inputs: &Inputs) -> Answer {
    let (found, limits) = (inputs.numbers("found")?, inputs.numbers("limits")?);
    let errors = inputs.numbers("errors")?;
    let component = |((&concentration, &limit), &error)| Component { concentration, limit, error };
    let components: Vec<Component> = found.iter().zip(&limits).zip(&errors).map(component).collect();
    let index = mixture(&components)?;
    Ok(json!({
        "index": index.index, "shares": index.shares, "error": index.error, "control_limit": index.control_limit,
        "above": index.finding() == Finding::Above,
    }))
}

/// Factors for long days and weeks, for the inputs the row has.
pub(crate) fn long_shift(inputs: &Inputs) -> Answer {
    let mut answer = Map::new();
    if let Some(hours) = inputs.number_if_any("hours_a_day") {
        answer.insert("daily".to_string(), json!(daily_reduction(hours)?));
        answer.insert("lead".to_string(), json!(50.0 * lead_style_reduction(hours)?));
    }
    if let Some(hours) = inputs.number_if_any("hours_a_week") {
        answer.insert("weekly".to_string(), json!(weekly_reduction(hours)?));
    }
    Ok(Value::Object(answer))
}

/// Bartlett's test of groups of values.
pub(crate) fn bartlett(inputs: &Inputs) -> Answer {
    let refused = Error::OutsideDomain { what: "groups", value: 0.0, allowed: "lists of numbers" };
    let groups: Vec<Vec<f64>> =
        serde_json::from_value(inputs.value("groups")?.clone()).map_err(|_| refused)?;
    let variances: Vec<(f64, f64)> = groups.iter().map(|group| variance(group)).collect::<Result<_>>()?;
    let test = equal_variances(&variances)?;
    Ok(json!({"statistic": test.statistic, "p": test.p_value}))
}

fn variance(group: &[f64]) -> Result<(f64, f64)> {
    let df = group.len() as f64 - 1.0;
    Ok((df, crate::numeric::sum::mean_and_squares(group).1 / df))
}

fn ratio(ratio: Ratio) -> Value {
    let finding = ratio.finding();
    json!({
        "ratio": ratio.ratio, "lower": ratio.lower, "upper": ratio.upper,
        "above": finding == Finding::Above, "below": finding == Finding::Below,
    })
}
