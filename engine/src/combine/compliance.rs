//! The published test of one shift against its TWA limit, by sampling and analytical error alone.

use crate::model::shift::{Compliance, ComplianceForm, Reason, Shift};
use crate::model::{Concentration, Interval};
use fullshift_stats::Result;
use fullshift_stats::compliance::{
    Ratio, Sample, consecutive_samples, few_grab_samples, many_grab_samples, sampling_error, single_sample,
};

const CONFIDENCE: f64 = 0.95;

/// Minutes of a shift that may be left without a tube where the period still counts as covered [OTM, recalled].
const SPARED: f64 = 60.0;

/// Share of a shift that tubes must cover all the same, so that a short shift is not covered by nothing: what the hour leaves of eight.
const COVERED: f64 = 7.0 / 8.0;

/// Short tubes from which on their mean is taken to be normal [NIOSH-77-173].
const MANY: usize = 30;

/// The test of the readings `used` in a shift against a limit on the scale of the mean over its hours. The error says why it
/// cannot be made.
pub fn of_shift(
    shift: &Shift,
    used: &[usize],
    limit: f64,
    concentrations: &[Concentration],
) -> std::result::Result<Compliance, Reason> {
    let tubes: Vec<&Concentration> = used.iter().map(|&i| &concentrations[i]).collect();
    if tubes.is_empty() {
        return Err("no tube was drawn in this shift that counts for it".into());
    }
    if tubes.iter().any(|tube| !tube.interval.is_point()) {
        return Err("the test takes readings from the scale only, and some are known as ranges".into());
    }
    let minutes: f64 = shift.blocks.iter().map(|block| block.minutes.0).sum();
    let drawn: f64 = tubes.iter().map(|tube| tube.drawn_minutes.unwrap_or(0.0)).sum();
    let form = match tubes.len() {
        1 if covers(drawn, minutes) => ComplianceForm::FullPeriod,
        _ if covers(drawn, minutes) => ComplianceForm::Consecutive,
        1 => return Err("one short tube; the test for grab samples takes two or more".into()),
        n if n < MANY => ComplianceForm::FewGrab,
        _ => ComplianceForm::ManyGrab,
    };
    let ratio = ratio(form, &tubes, limit).map_err(|error| error.to_string())?;
    Ok(Compliance { form, ratio: ratio.ratio, lower: ratio.lower.max(0.0), upper: ratio.upper })
}

/// Whether tubes drawn for so many minutes cover a shift of so many.
fn covers(drawn: f64, minutes: f64) -> bool {
    drawn >= (minutes - SPARED).max(COVERED * minutes)
}

fn ratio(form: ComplianceForm, tubes: &[&Concentration], limit: f64) -> Result<Ratio> {
    let values: Vec<f64> = tubes.iter().map(|tube| value(tube.interval)).collect();
    let relative_sd = tubes.iter().map(|tube| tube.relative_sd).fold(0.0, f64::max);
    let error = sampling_error(relative_sd, CONFIDENCE)?;
    match form {
        ComplianceForm::FullPeriod => single_sample(values[0], limit, error),
        ComplianceForm::Consecutive => {
            let sample = |(tube, &concentration): (&&Concentration, &f64)| Sample {
                minutes: tube.drawn_minutes.unwrap_or(0.0),
                concentration,
            };
            consecutive_samples(&tubes.iter().zip(&values).map(sample).collect::<Vec<_>>(), limit, error)
        }
        ComplianceForm::FewGrab => few_grab_samples(&values, limit, CONFIDENCE),
        ComplianceForm::ManyGrab => many_grab_samples(&values, limit, CONFIDENCE),
    }
}

fn value(interval: Interval) -> f64 {
    interval.low()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_hour_may_be_left_of_eight_and_less_of_a_shorter_shift() {
        assert!(covers(420.0, 480.0) && !covers(419.0, 480.0));
        assert!(covers(660.0, 720.0) && !covers(659.0, 720.0));
        assert!(!covers(1.0, 60.0) && !covers(1.0, 45.0) && covers(40.0, 45.0));
    }
}
