//! Answers for the tables of power, of draws and of comparisons.

use super::{Answer, Inputs};
use crate::power::{by_rank, mean, percentile};
use crate::{comparison, drawing};
use serde_json::{Map, Value, json};

/// Chances that the limits of a percentile lie on one side of a point.
pub(super) fn power_percentile(inputs: &Inputs) -> Answer {
    let (n, distance) = (inputs.count("n")?, inputs.number("distance")?);
    let (share, confidence) = (inputs.number("share")?, inputs.number("confidence")?);
    Ok(json!({
        "below": percentile::below(n, distance, share, confidence)?,
        "above": percentile::above(n, distance, share, confidence)?,
    }))
}

/// Chances that Land's limits of the mean lie on one side of a point.
pub(super) fn power_mean(inputs: &Inputs) -> Answer {
    let (n, gap) = (inputs.count("n")?, inputs.number("gap")?);
    let (sigma, confidence) = (inputs.number("sigma")?, inputs.number("confidence")?);
    Ok(json!({
        "below": mean::below(n, gap, sigma, confidence)?,
        "above": mean::above(n, gap, sigma, confidence)?,
    }))
}

/// Chance that the limit of a percentile by rank lies below a point.
pub(super) fn power_by_rank(inputs: &Inputs) -> Answer {
    let (n, share_above) = (inputs.count("n")?, inputs.number("share_above")?);
    let (share, confidence) = (inputs.number("share")?, inputs.number("confidence")?);
    Ok(json!({"below": by_rank::below(n, share_above, share, confidence)?}))
}

/// Draws from a finite population: the chance to miss, the fewest, the real-valued number and its rounding, by what is given.
pub(super) fn drawing(inputs: &Inputs) -> Answer {
    let population = inputs.count("population")?;
    let mut answer = Map::new();
    if let Ok(drawn) = inputs.count("drawn") {
        let missed = drawing::chance_missed(population, inputs.count("marked")?, drawn)?;
        answer.insert("missed".to_owned(), json!(missed));
        return Ok(Value::Object(answer));
    }
    let confidence = inputs.number("confidence")?;
    match inputs.number_if_any("share") {
        Some(share) => {
            let root = drawing::real_valued(population, share, confidence)?;
            answer.extend([
                ("real_valued".to_owned(), json!(root)),
                ("rounded".to_owned(), json!(root.round())),
            ]);
        }
        None => {
            let fewest = drawing::fewest(population, inputs.count("marked")?, confidence)?;
            answer.insert("fewest".to_owned(), json!(fewest));
        }
    }
    Ok(Value::Object(answer))
}

/// The difference of two means, with `"paired": "yes"` of pairs.
pub(super) fn comparison(inputs: &Inputs) -> Answer {
    let (first, second) = (inputs.numbers("first")?, inputs.numbers("second")?);
    let confidence = inputs.number("confidence")?;
    let found = match inputs.text("paired") {
        Some("yes") => {
            let pairs: Vec<f64> = first.iter().zip(&second).map(|(a, b)| b - a).collect();
            comparison::paired(&pairs)?
        }
        _ => comparison::unpaired(&first, &second)?,
    };
    Ok(json!({
        "value": found.value, "df": found.df, "lower": found.lower(confidence)?, "upper": found.upper(confidence)?,
        "below_zero": found.confidence_below_zero()?,
    }))
}
