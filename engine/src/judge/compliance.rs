//! The published test of one shift against its TWA limit, for those who must use it.

use super::shift::Judged;
use crate::model::brief_beside;
use crate::model::profile::Verdict;
use crate::model::shift::{Compliance, ComplianceForm, Reason};

/// The name by which a study asks for the test, among the rules for a TWA.
pub const SHIFT_SAE: &str = "shift-sae";

/// Where the test comes from.
pub const SHIFT_SAE_SOURCE: &str = "NIOSH-77-173, section 4.2; OTM, section II";

/// Below where the upper limit of mean over limit is at most 1, above where its lower limit is above 1.
pub fn shift_sae(found: &Result<Compliance, Reason>) -> Judged {
    let found = match found {
        Ok(found) => found,
        Err(reason) => return Judged { verdict: Verdict::NotGiven, because: reason.to_string() },
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ratio_is_below_one_up_to_one_itself_and_above_beyond_it() {
        let said = |lower, upper| {
            shift_sae(&Ok(Compliance { form: ComplianceForm::FullPeriod, ratio: 1.0, lower, upper }))
        };
        assert_eq!([said(0.5, 0.9), said(0.5, 1.0)].map(|j| j.verdict), [Verdict::Below; 2]);
        assert_eq!(said(1.1, 1.5).verdict, Verdict::Above);
        assert_eq!([said(0.9, 1.1), said(1.0, 1.5)].map(|j| j.verdict), [Verdict::Undecided; 2]);
        let words = "the upper limit of mean over limit is 0.9, not above 1 (one tube over the full period)";
        assert_eq!(said(0.5, 0.9).because, words);
        let none = shift_sae(&Err("no tube".into()));
        assert_eq!((none.verdict, none.because.as_str()), (Verdict::NotGiven, "no tube"));
    }

    #[test]
    fn the_form_of_the_test_is_told() {
        for (form, words) in [
            (ComplianceForm::Consecutive, "tubes one after another over the full period"),
            (ComplianceForm::FewGrab, "short tubes, taken to be random over the shift"),
            (ComplianceForm::ManyGrab, "short tubes, taken to be random over the shift"),
        ] {
            let said = shift_sae(&Ok(Compliance { form, ratio: 1.0, lower: 0.9, upper: 1.1 })).because;
            assert_eq!(said, format!("mean over limit may lie from 0.9 to 1.1 ({words})"));
        }
    }
}
