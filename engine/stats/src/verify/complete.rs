//! Answers for the tables of complete samples and of fit.

use super::{Answer, Inputs};
use crate::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, land, order_statistics, percentile,
};
use crate::{Error, fit};
use serde_json::{Value, json};

/// Statistics of the logarithms of `x`, and the plain estimates.
pub(super) fn lognormal_estimates(inputs: &Inputs) -> Answer {
    let sample = LogSample::from_values(&inputs.numbers("x")?)?;
    Ok(json!({
        "n": sample.n(), "mean_ln": sample.mean_ln(), "sd_ln": sample.sd_ln(),
        "variance_ln": sample.sd_ln() * sample.sd_ln(), "gm": geometric_mean::estimate(&sample)?,
        "gsd": geometric_sd::estimate(&sample)?, "mean": arithmetic_mean::estimate(&sample)?,
    }))
}

/// Limits of the arithmetic mean of `x` at `confidence`.
pub(super) fn mean_limits(inputs: &Inputs) -> Answer {
    let sample = LogSample::from_values(&inputs.numbers("x")?)?;
    let confidence = inputs.number("confidence")?;
    Ok(json!({
        "lower": arithmetic_mean::lower(&sample, confidence)?, "upper": arithmetic_mean::upper(&sample, confidence)?,
    }))
}

/// Limits of a percentile of `x` at `confidence`.
pub(super) fn percentile_limits(inputs: &Inputs) -> Answer {
    let sample = LogSample::from_values(&inputs.numbers("x")?)?;
    let (share, confidence) = (inputs.number("share")?, inputs.number("confidence")?);
    Ok(json!({
        "mean_ln": sample.mean_ln(), "sd_ln": sample.sd_ln(),
        "upper_factor": percentile::tolerance_factor_upper(sample.n(), share, confidence)?,
        "lower": percentile::lower(&sample, share, confidence)?, "upper": percentile::upper(&sample, share, confidence)?,
        "upper_ln": percentile::upper(&sample, share, confidence)?.ln(),
    }))
}

/// Factors of both limits of a percentile.
pub(super) fn tolerance_factors(inputs: &Inputs) -> Answer {
    let (n, share, confidence) = (inputs.count("n")?, inputs.number("share")?, inputs.number("confidence")?);
    Ok(json!({
        "upper": percentile::tolerance_factor_upper(n, share, confidence)?,
        "lower": percentile::tolerance_factor_lower(n, share, confidence)?,
    }))
}

/// Limits and estimates of the share above a point `u` standard deviations above the mean of `n` logarithms.
pub(super) fn exceedance_limits(inputs: &Inputs) -> Answer {
    let sample = LogSample::from_statistics(inputs.count("n")?, 0.0, 1.0)?;
    let point = inputs.number("u")?.exp();
    let confidence = inputs.number_if_any("confidence").unwrap_or(0.95);
    Ok(json!({
        "estimate": exceedance::estimate(&sample, point)?, "unbiased": exceedance::unbiased(&sample, point)?,
        "percent_unbiased": 100.0 * exceedance::unbiased(&sample, point)?,
        "lower": exceedance::lower(&sample, point, confidence)?, "upper": exceedance::upper(&sample, point, confidence)?,
    }))
}

/// Land's factors H of both limits, from degrees of freedom, effective number and standard deviation.
pub(super) fn land_factors(inputs: &Inputs) -> Answer {
    let (v, s) = (inputs.number("df")?, inputs.number("sd_ln")?);
    let n = inputs.number_if_any("effective_n").unwrap_or(v + 1.0);
    let location = land::Location::new(0.0, s, v, n)?;
    let confidence = inputs.number("confidence")?;
    let factor = |limit: f64| (limit - 0.5 * s * s) / s * v.sqrt();
    Ok(json!({
        "upper_h": factor(land::ln_mean_upper(&location, confidence)?),
        "lower_h": factor(land::ln_mean_lower(&location, confidence)?),
    }))
}

/// Finney's function.
pub(super) fn finney_psi(inputs: &Inputs) -> Answer {
    Ok(json!(arithmetic_mean::finney_psi(inputs.count("n")?, inputs.number("t")?)?))
}

/// The fewest values whose `from_top`-th largest bounds a percentile, and the confidence the largest of `n` attains.
pub(super) fn order_limits(inputs: &Inputs) -> Answer {
    let share = inputs.number("share")?;
    let mut answer = serde_json::Map::new();
    if let Some(confidence) = inputs.number_if_any("confidence") {
        let from_top = inputs.number_if_any("from_top").unwrap_or(1.0) as usize;
        let n = order_statistics::smallest_n_upper(from_top, share, confidence)?;
        answer.insert("smallest_n".to_string(), json!(n));
    }
    if let Ok(n) = inputs.count("n") {
        answer.insert("confidence".to_string(), json!(order_statistics::confidence_upper(n, n, share)?));
    }
    Ok(Value::Object(answer))
}

/// Shapiro and Wilk's test and the correlation of the probability plot; with `"scale": "ln"` of the logarithms.
pub(super) fn straightness(inputs: &Inputs) -> Answer {
    let mut x = inputs.numbers("x")?;
    if inputs.text("scale") == Some("ln") {
        x.iter_mut().for_each(|v| *v = v.ln());
    }
    let test = fit::shapiro_wilk(&x)?;
    Ok(json!({"w": test.w, "p": test.p, "correlation": fit::probability_plot_correlation(&x)?}))
}

/// Mann and Kendall's test; times are the places in the list where none are given.
pub(super) fn mann_kendall(inputs: &Inputs) -> Answer {
    let x = inputs.numbers("x")?;
    let places = || (1..=x.len()).map(|i| i as f64).collect();
    let times = inputs.numbers("times").unwrap_or_else(|_: Error| places());
    let trend = fit::mann_kendall(&times, &x)?;
    Ok(json!({"s": trend.s, "variance": trend.variance, "p": trend.p}))
}
