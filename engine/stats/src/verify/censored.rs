//! Answers for the tables of censored samples and of posteriors.

use super::{Answer, Inputs};
use crate::censored::{
    InvariantLimits, Limit, Limits, Observation, ProfileLikelihood, Quantity, Sample, fit, interval_moments,
    order_regression, product_limit, turnbull,
};
use crate::posterior::{LocationPrior, Posterior, Prior, SpreadPrior};
use crate::{Error, Result};
use serde_json::{Value, json};

/// Probability and moments of a standard normal variable within an interval, the curvatures as they enter the likelihood.
pub(super) fn interval_answer(inputs: &Inputs) -> Answer {
    let low = inputs.number_if_any("low").unwrap_or(f64::NEG_INFINITY);
    let high = inputs.number_if_any("high").unwrap_or(f64::INFINITY);
    let t = interval_moments(low, high, high - low);
    Ok(json!({
        "log_probability": t.log_probability,
        "mean": t.mean,
        "square": t.square,
        "less_of_mean": 1.0 - t.variance,
        "less_mixed": 2.0 * t.mean - t.covariance,
        "less_of_square": 2.0 * t.square - t.variance_of_square,
    }))
}

/// The fit by maximum likelihood.
pub(super) fn censored_fit(inputs: &Inputs) -> Answer {
    let fit = fit(&sample(inputs)?)?;
    Ok(json!({
        "mu": fit.mu,
        "sigma": fit.sigma,
        "log_likelihood": fit.log_likelihood,
        "se_mu": fit.se_mu,
        "se_ln_sigma": fit.se_ln_sigma,
        "covariance": fit.covariance,
    }))
}

/// Profile-likelihood limits of one quantity.
pub(super) fn censored_profile_limits(inputs: &Inputs) -> Answer {
    let sample = sample(inputs)?;
    let limits =
        ProfileLikelihood::new(&sample)?.limits(named_quantity(inputs)?, inputs.number("confidence")?)?;
    Ok(pair(&limits))
}

/// Limits by the invariant posterior of one quantity.
pub(super) fn censored_invariant_limits(inputs: &Inputs) -> Answer {
    let sample = sample(inputs)?;
    let limits =
        InvariantLimits::new(&sample)?.limits(named_quantity(inputs)?, inputs.number("confidence")?)?;
    Ok(pair(&limits))
}

/// Cohen's lambda of a sample of 1000 values, a share of them below 1, the others in two places at the wanted spread.
pub(super) fn censored_lambda(inputs: &Inputs) -> Answer {
    let (share, gamma) = (inputs.number("share_below")?, inputs.number("gamma")?);
    let below = (1000.0 * share).round() as usize;
    let half = (1000 - below) / 2;
    let mut all = vec![Observation::below(1.0)?; below];
    for log in [1.0 - gamma.sqrt(), 1.0 + gamma.sqrt()] {
        all.extend(vec![Observation::exact(log.exp())?; half]);
    }
    Ok(json!({ "lambda": 1.0 - fit(&Sample::new(&all)?)?.mu }))
}

/// The product-limit distribution on the scale of the values, and its moments on that of their logarithms.
pub(super) fn product_limit_answer(inputs: &Inputs) -> Answer {
    let found = product_limit(&observations(inputs)?)?;
    let below: Vec<f64> = found.steps.iter().map(|s| s.below).collect();
    let points =
        || found.steps.iter().map(|s| (s.value, s.mass)).chain([(found.leftover_at, found.leftover)]);
    let mean_ln: f64 = points().map(|(x, mass)| mass * x.ln()).sum();
    let variance: f64 = points().map(|(x, mass)| mass * (x.ln() - mean_ln).powi(2)).sum();
    Ok(json!({
        "mean": found.mean(),
        "sd": found.sd(),
        "leftover": found.leftover,
        "leftover_at": found.leftover_at,
        "below": below,
        "mean_ln": mean_ln,
        "sd_ln": variance.sqrt(),
    }))
}

/// The probability that Turnbull's distribution gives each observation.
pub(super) fn turnbull_answer(inputs: &Inputs) -> Answer {
    let all = observations(inputs)?;
    let found = turnbull(&all)?;
    let probability = |o: &Observation| {
        let inside = found.cells.iter().filter(|c| {
            let fits = c.low >= o.low() && c.high <= o.high();
            fits && (o.is_exact() || c.low < c.high || (c.low > o.low() && c.high < o.high()))
        });
        inside.map(|c| c.mass).sum::<f64>()
    };
    let probabilities: Vec<f64> = all.iter().map(probability).collect();
    Ok(json!({ "probabilities": probabilities }))
}

/// The regression on order statistics.
pub(super) fn order_regression_answer(inputs: &Inputs) -> Answer {
    let line = order_regression(&observations(inputs)?)?;
    Ok(json!({
        "correlation": line.correlation,
        "mean_ln": line.mean_ln(),
        "sd_ln": line.sd_ln(),
        "mean": line.mean(),
        "sd": line.sd(),
        "positions": line.found.iter().map(|p| p.position).collect::<Vec<_>>(),
        "scores": line.found.iter().map(|p| p.score).collect::<Vec<_>>(),
        "filled": line.filled,
    }))
}

/// The posterior probability on either side of a value.
pub(super) fn posterior_probability(inputs: &Inputs) -> Answer {
    let sample = sample(inputs)?;
    let stated = inputs.value("quantity")?;
    let quantity = match stated["kind"].as_str() {
        Some("percentile") => Quantity::Percentile(number(stated, "share")?),
        Some("exceedance") => Quantity::Exceedance(number(stated, "limit")?),
        Some("gsd") => Quantity::GeometricSd,
        Some("mean") => Quantity::Mean,
        _ => Quantity::GeometricMean,
    };
    let posterior = Posterior::new(&sample, &prior(inputs.value("prior")?)?)?;
    let value = inputs.number("value")?;
    Ok(json!({
        "below": posterior.probability_below(quantity, value)?,
        "above": posterior.probability_above(quantity, value)?,
    }))
}

fn prior(stated: &Value) -> Result<Prior> {
    let (location, spread) = (&stated["location"], &stated["spread"]);
    let highest = |of: &Value| of["highest"].as_f64().unwrap_or(f64::INFINITY);
    let location = match location["kind"].as_str() {
        Some("flat") => {
            LocationPrior::Flat { lowest: number(location, "lowest")?, highest: highest(location) }
        }
        _ => LocationPrior::Lognormal { median: number(location, "median")?, gsd: number(location, "gsd")? },
    };
    let spread = match spread["kind"].as_str() {
        Some("flat") => SpreadPrior::Flat { lowest: number(spread, "lowest")?, highest: highest(spread) },
        Some("invariant") => {
            SpreadPrior::Invariant { lowest: number(spread, "lowest")?, highest: highest(spread) }
        }
        _ => SpreadPrior::Lognormal { median: number(spread, "median")?, factor: number(spread, "factor")? },
    };
    Prior::new(location, spread)
}

fn number(of: &Value, name: &'static str) -> Result<f64> {
    of[name].as_f64().ok_or(Error::OutsideDomain { what: name, value: f64::NAN, allowed: "a number" })
}

fn named_quantity(inputs: &Inputs) -> Result<Quantity> {
    Ok(match inputs.text("quantity") {
        Some("gsd") => Quantity::GeometricSd,
        Some("mean") => Quantity::Mean,
        Some("p95") => Quantity::Percentile(0.95),
        Some("exceedance") => Quantity::Exceedance(inputs.number("limit")?),
        _ => Quantity::GeometricMean,
    })
}

fn pair(limits: &Limits) -> Value {
    let side = |limit: Limit| limit.value();
    json!({ "estimate": side(limits.estimate), "lower": side(limits.lower), "upper": side(limits.upper) })
}

fn sample(inputs: &Inputs) -> Result<Sample> {
    Sample::new(&observations(inputs)?)
}

/// `[[low, high], ...]`, null where nothing is known on that side.
fn observations(inputs: &Inputs) -> Result<Vec<Observation>> {
    let list = inputs.value("observations")?.as_array().map(Vec::as_slice).unwrap_or_default();
    let one = |pair: &Value| {
        Observation::between(pair[0].as_f64().unwrap_or(0.0), pair[1].as_f64().unwrap_or(f64::INFINITY))
    };
    list.iter().map(one).collect()
}
