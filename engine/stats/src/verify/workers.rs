//! Answers for the tables of differences between workers, and of plain means and standard deviations.

use super::{Answer, Inputs};
use crate::numeric::sum::mean_and_squares;
use crate::workers::{
    AnalysisOfVariance, Likelihood, OwnFigure, Repeats, VarianceComponents, analysis_of_variance,
    between_sd_confidence_below, between_sd_lower, between_sd_profile_lower, between_sd_profile_upper,
    between_sd_upper, distance_to_limit_confidence_below, distance_to_limit_lower, distance_to_limit_upper,
    f_ratio, share_between_lower, share_between_upper, total_sd_lower, total_sd_upper, variance_components,
    within_sd_lower, within_sd_profile_lower, within_sd_profile_upper, within_sd_upper, worker_effects,
};
use crate::{Error, Result};
use serde_json::{Value, json};

/// Analysis of variance, both fits, and where a confidence is given the exact limits.
pub(super) fn worker_figures(inputs: &Inputs) -> Answer {
    let repeats = repeats(inputs)?;
    let restricted = variance_components(&repeats, Likelihood::Restricted)?;
    let mut answer = json!({
        "anova": anova(&analysis_of_variance(&repeats)?),
        "restricted": components(&restricted),
        "full": components(&variance_components(&repeats, Likelihood::Full)?),
        "shrunken_effects": shrunken(&repeats, &restricted)?,
    });
    if let Some(confidence) = inputs.number_if_any("confidence") {
        answer["share_between"] =
            json!([share_between_lower(&repeats, confidence)?, share_between_upper(&repeats, confidence)?]);
        answer["within_sd"] =
            json!([within_sd_lower(&repeats, confidence)?, within_sd_upper(&repeats, confidence)?]);
        answer["total_sd"] =
            json!([total_sd_lower(&repeats, confidence)?, total_sd_upper(&repeats, confidence)?]);
    }
    Ok(answer)
}

/// Profile-likelihood limits of both spreads.
pub(super) fn worker_profile_limits(inputs: &Inputs) -> Answer {
    let (repeats, confidence) = (repeats(inputs)?, inputs.number("confidence")?);
    let likelihood =
        if inputs.text("likelihood") == Some("full") { Likelihood::Full } else { Likelihood::Restricted };
    Ok(json!({
        "sd_between": [
            between_sd_profile_lower(&repeats, likelihood, confidence)?,
            between_sd_profile_upper(&repeats, likelihood, confidence)?,
        ],
        "sd_within": [
            within_sd_profile_lower(&repeats, likelihood, confidence)?,
            within_sd_profile_upper(&repeats, likelihood, confidence)?,
        ],
    }))
}

/// The confidence with which a pivot lies below a value, and its limits at that confidence.
pub(super) fn worker_pivots(inputs: &Inputs) -> Answer {
    let (repeats, value, below) = (repeats(inputs)?, inputs.number("value")?, inputs.number("confidence")?);
    let (confidence_below, upper, lower) = match inputs.text("pivot") {
        Some("sd_between") => (
            between_sd_confidence_below(&repeats, value)?,
            between_sd_upper(&repeats, below)?,
            between_sd_lower(&repeats, 1.0 - below)?,
        ),
        figure => {
            let figure = if figure == Some("mean") { OwnFigure::Mean } else { OwnFigure::Percentile(0.95) };
            let limit = inputs.number("limit")?;
            (
                distance_to_limit_confidence_below(&repeats, limit, figure, value)?,
                distance_to_limit_upper(&repeats, limit, figure, below)?,
                distance_to_limit_lower(&repeats, limit, figure, 1.0 - below)?,
            )
        }
    };
    Ok(json!({"confidence_below": confidence_below, "upper": upper, "lower": lower}))
}

/// The F ratio with probability `p` below it, and the way back.
pub(super) fn f_ratio_points(inputs: &Inputs) -> Answer {
    let (above, below) = (inputs.number("df_above")?, inputs.number("df_below")?);
    let p = inputs.number("p")?;
    Ok(json!({
        "point": f_ratio::quantile(p, above, below)?,
        "point_of_the_rest": f_ratio::quantile_upper(1.0 - p, above, below)?,
    }))
}

/// Mean and standard deviation of plain numbers.
pub(super) fn mean_and_sd(inputs: &Inputs) -> Answer {
    let values = match inputs.value("values") {
        Ok(_) => inputs.numbers("values")?,
        Err(_) => {
            alternating(inputs.number("whole")?, &[inputs.number("tenths")?], inputs.count("pairs")?).concat()
        }
    };
    let (mean, squares) = mean_and_squares(&values);
    Ok(json!({"mean": mean, "sd": (squares / (values.len() as f64 - 1.0)).sqrt()}))
}

fn repeats(inputs: &Inputs) -> Result<Repeats> {
    if let Ok(groups) = inputs.value("groups") {
        let groups: Vec<Vec<f64>> = serde_json::from_value(groups.clone()).map_err(|_| not_groups())?;
        return Repeats::of(&groups);
    }
    Repeats::of(&alternating(inputs.number("whole")?, &inputs.numbers("tenths")?, inputs.count("pairs")?))
}

fn not_groups() -> Error {
    Error::OutsideDomain { what: "groups", value: 0.0, allowed: "lists of numbers" }
}

/// The made data of NIST's sets: in each group one value, then pairs a tenth below and a tenth above it, each the `f64` nearest
/// to the printed decimal number.
fn alternating(whole: f64, tenths: &[f64], pairs: usize) -> Vec<Vec<f64>> {
    let group = |tenth: f64| {
        let decimal = |step: f64| (whole * 10.0 + tenth + step) / 10.0;
        let mut values = vec![decimal(0.0)];
        values.extend((0..pairs).flat_map(|_| [decimal(-1.0), decimal(1.0)]));
        values
    };
    tenths.iter().map(|&tenth| group(tenth)).collect()
}

fn anova(table: &AnalysisOfVariance) -> Value {
    let total = table.sum_between + table.sum_within;
    json!({
        "sum_between": table.sum_between, "sum_within": table.sum_within,
        "mean_square_between": table.mean_square_between, "mean_square_within": table.mean_square_within,
        "ratio": table.ratio, "p_value": table.p_value, "effective_repeats": table.effective_repeats,
        "between_variance": table.between_variance, "r_squared": table.sum_between / total,
        "residual_sd": table.mean_square_within.sqrt(),
    })
}

fn components(fit: &VarianceComponents) -> Value {
    json!({
        "sd_between": fit.between.sqrt(), "sd_within": fit.within.sqrt(), "between": fit.between, "within": fit.within,
        "location": fit.location, "location_error": fit.location_error, "ln_likelihood": fit.ln_likelihood,
    })
}

fn shrunken(repeats: &Repeats, fit: &VarianceComponents) -> Result<Vec<f64>> {
    Ok(worker_effects(repeats, fit)?.iter().map(|effect| effect.predicted - fit.location).collect())
}
