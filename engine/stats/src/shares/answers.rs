//! Answers for the published table of shares.

use super::OfTotals;
use crate::verify::{Answer, Inputs};
use serde_json::json;

pub(crate) fn share_of_totals(inputs: &Inputs) -> Answer {
    let found = OfTotals::new(&inputs.numbers("parts")?, &inputs.numbers("totals")?)?;
    Ok(json!({
        "share": found.share(), "standard_error": found.standard_error(),
        "lower": found.lower(0.95)?, "upper": found.upper(0.95)?,
    }))
}
