//! Answers for the tables of special functions.

use super::{Answer, Inputs};
use crate::special::{chi_squared, noncentral_t, normal, student_t};
use serde_json::json;

/// Both tails of the normal distribution at `x`, their logarithms and the hazard.
pub(super) fn normal_tails(inputs: &Inputs) -> Answer {
    let x = inputs.number("x")?;
    Ok(json!({
        "lower": normal::lower(x), "upper": normal::upper(x), "log_lower": normal::log_lower(x),
        "log_upper": normal::log_upper(x), "hazard_upper": normal::hazard_upper(x),
    }))
}

/// The normal point with probability `p` below it.
pub(super) fn normal_quantile(inputs: &Inputs) -> Answer {
    Ok(json!(normal::quantile(inputs.number("p")?)?))
}

/// Both tails of Student's t.
pub(super) fn student_t_tails(inputs: &Inputs) -> Answer {
    let (t, df) = (inputs.number("t")?, inputs.number("df")?);
    Ok(json!({"lower": student_t::lower(t, df)?, "upper": student_t::upper(t, df)?}))
}

/// Both tails of chi-squared.
pub(super) fn chi_squared_tails(inputs: &Inputs) -> Answer {
    let (x, df) = (inputs.number("x")?, inputs.number("df")?);
    Ok(json!({"lower": chi_squared::lower(x, df)?, "upper": chi_squared::upper(x, df)?}))
}

/// The points of chi-squared with probability `p` below and above.
pub(super) fn chi_squared_quantile(inputs: &Inputs) -> Answer {
    let (p, df) = (inputs.number("p")?, inputs.number("df")?);
    Ok(json!({"below": chi_squared::quantile(p, df)?, "above": chi_squared::quantile_upper(p, df)?}))
}

/// Both tails and the density of the noncentral t.
pub(super) fn noncentral_t_tails(inputs: &Inputs) -> Answer {
    let tails =
        noncentral_t::tails(inputs.number("t")?, inputs.number("df")?, inputs.number("noncentrality")?)?;
    Ok(json!({"lower": tails.lower, "upper": tails.upper, "density": tails.density}))
}

/// The points of the noncentral t with probability `p` below and above.
pub(super) fn noncentral_t_quantile(inputs: &Inputs) -> Answer {
    let (p, df, ncp) = (inputs.number("p")?, inputs.number("df")?, inputs.number("noncentrality")?);
    Ok(json!({
        "below": noncentral_t::quantile(p, df, ncp)?, "above": noncentral_t::quantile_upper(p, df, ncp)?,
    }))
}

/// The noncentralities for which probability `p` lies below and above `t`.
pub(super) fn noncentrality(inputs: &Inputs) -> Answer {
    let (t, df, p) = (inputs.number("t")?, inputs.number("df")?, inputs.number("p")?);
    Ok(json!({
        "below": noncentral_t::noncentrality(t, df, p)?, "above": noncentral_t::noncentrality_upper(t, df, p)?,
    }))
}
