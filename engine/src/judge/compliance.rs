//! The published test of one shift against its TWA limit, for those who must use it.

use super::shift::Judged;
use crate::model::brief_beside;
use crate::model::profile::Verdict;
use crate::model::shift::{Compliance, ComplianceForm};

/// The name by which a study asks for the test, among the rules for a TWA.
pub const SHIFT_SAE: &str = "shift-sae";

/// Where the test comes from.
pub const SHIFT_SAE_SOURCE: &str = "NIOSH-77-173, section 4.2; OTM, section II";

/// Below where the upper limit of mean over limit is at most 1, above where its lower limit is above 1.
pub fn shift_sae(found: &Result<Compliance, String>) -> Judged {
    let found = match found {
        Ok(found) => found,
        Err(reason) => return Judged { verdict: Verdict::NotGiven, because: reason.clone() },
    };
    let drawn = match found.form {
        ComplianceForm::FullPeriod => "one tube over the full period",
        ComplianceForm::Consecutive => "tubes one after another over the full period",
        ComplianceForm::FewGrab | ComplianceForm::ManyGrab => {
            "short tubes, taken to be random over the shift"
        }
    };
    let [lower, upper] = [found.lower, found.upper].map(|end| brief_beside(end, 1.0));
    let (verdict, because) = match (found.lower > 1.0, found.upper <= 1.0) {
        (true, _) => (Verdict::Above, format!("the lower limit of mean over limit is {lower}, above 1")),
        (_, true) => (Verdict::Below, format!("the upper limit of mean over limit is {upper}, not above 1")),
        _ => (Verdict::Undecided, format!("mean over limit may lie from {lower} to {upper}")),
    };
    Judged { verdict, because: format!("{because} ({drawn})") }
}
