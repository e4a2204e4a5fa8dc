//! One shift against one limit.

use crate::model::profile::Verdict;
use crate::model::shift::{Reason, Sampling, SamplingBasis, TUBES_FOR_A_WINDOW, Window};
use crate::model::{Interval, Limit, Minutes, brief, brief_beside, brief_range, shown};

/// A verdict and its reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The verdict.
    pub verdict: Verdict,
    /// Why.
    pub because: String,
}

fn judged(verdict: Verdict, because: String) -> Judged {
    Judged { verdict, because }
}

/// The TWA of a shift against its limit, both in `unit`: by its one-sided limits, or by its range where it has none.
pub fn twa(
    twa: &Result<Interval, Reason>,
    sampling: &Result<Sampling, Reason>,
    limit: f64,
    unit: &str,
) -> Judged {
    over_shift("TWA", twa, sampling, limit, &format!(" {unit}"))
}

/// The index of a mixture against 1, in the same way.
pub fn mixture(index: &Result<Interval, Reason>, sampling: &Result<Sampling, Reason>) -> Judged {
    over_shift("index", index, sampling, 1.0, "")
}

/// `unit` has a blank before it, where there is one.
fn over_shift(
    what: &str,
    found: &Result<Interval, Reason>,
    sampling: &Result<Sampling, Reason>,
    limit: f64,
    unit: &str,
) -> Judged {
    let interval = match found {
        Ok(interval) => interval,
        Err(reason) => return judged(Verdict::NotGiven, reason.to_string()),
    };
    let range =
        format!("the {what} of the readings is {}{unit}", brief_range(interval.low(), interval.high()));
    let sampling = match sampling {
        Ok(sampling) => sampling,
        Err(reason) => return judged(Verdict::Undecided, format!("{range}: {reason}")),
    };
    let threshold = format!("{}{unit}", shown(limit));
    let (lower, upper) = (brief_beside(sampling.lower, limit), brief_beside(sampling.upper, limit));
    match (sampling.basis, sampling.lower > limit, sampling.upper < limit) {
        (SamplingBasis::Measurement, ..) => judged(
            Verdict::Undecided,
            format!(
                "{range}, but there are too few tubes to know how the air varied; two or more in a task are needed"
            ),
        ),
        (SamplingBasis::Open, ..) => judged(
            Verdict::Undecided,
            format!("{range}, but their ranges do not show how the air varied over the shift"),
        ),
        (_, true, _) => judged(
            Verdict::Above,
            format!("the 95 % lower limit of the {what} is {lower}{unit}, above {threshold}"),
        ),
        (_, _, true) => judged(
            Verdict::Below,
            format!("the 95 % upper limit of the {what} is {upper}{unit}, below {threshold}"),
        ),
        _ => judged(
            Verdict::Undecided,
            format!("the true {what} may lie from {lower} to {upper}{unit}, and {threshold} lies between"),
        ),
    }
}

/// The highest window of a shift against a short-term limit; both in `unit`.
pub fn short_term(window: &Result<Window, Reason>, length: Minutes, limit: f64, unit: &str) -> Judged {
    let window = match window {
        Ok(window) => window,
        Err(reason) => return judged(Verdict::NotGiven, reason.to_string()),
    };
    let tubes = window.readings.len();
    let measured = format!(
        "the highest {} minutes as measured are {} {unit} from {tubes} {}",
        brief(length.0),
        brief_range(window.mean.low(), window.mean.high()),
        if tubes == 1 { "tube" } else { "tubes" }
    );
    if let Some((measured, lower)) =
        window.measured.as_ref().map(|w| (w, lower_limit(w))).filter(|(_, l)| *l > limit)
    {
        return judged(
            Verdict::Above,
            format!(
                "the highest {} minutes with {TUBES_FOR_A_WINDOW} tubes or more are {} {unit} from {} tubes, at least {} with the tubes' own error, above {} {unit}",
                brief(length.0),
                brief_range(measured.mean.low(), measured.mean.high()),
                measured.readings.len(),
                brief_beside(lower, limit),
                shown(limit)
            ),
        );
    }
    if window.is_screening() {
        let word = if window.mean.low() > limit { "a reading in it lies above the limit; " } else { "" };
        let message = format!(
            "{measured}: {word}fewer than {TUBES_FOR_A_WINDOW} tubes are screening only, so measure the full time"
        );
        return judged(Verdict::Undecided, message);
    }
    let lower = lower_limit(window);
    let held = brief_beside(window.bound_upper, limit);
    if lower > limit {
        let (lower, limit) = (brief_beside(lower, limit), shown(limit));
        return judged(
            Verdict::Above,
            format!("{measured}, at least {lower} with the tubes' own error, above {limit} {unit}"),
        );
    }
    if window.bound_upper <= limit {
        let message = format!(
            "{measured}; even the highest reading with its own error, {held} {unit}, held for the whole window is not above {}",
            shown(limit)
        );
        return judged(Verdict::Below, message);
    }
    judged(
        Verdict::Undecided,
        format!(
            "{measured}, but the highest reading with its own error held for the whole window would be {held} {unit}"
        ),
    )
}

/// The lower limit of a window with the tubes' own error, or its lower end where that is not known.
fn lower_limit(window: &Window) -> f64 {
    window.sampling.as_ref().map_or(window.mean.low(), |sampling| sampling.lower)
}

/// When the exposure was above the TWA limit for certain, as far as the tubes show.
pub struct Occasions {
    /// The TWA limit.
    pub above: f64,
    /// From and to of each, in minutes from the start of the shift.
    pub stretches: Vec<(f64, f64)>,
}

/// The same with the number and spacing of the occasions above the TWA limit, where the short-term limit bounds them.
pub fn with_occasions(judged: Judged, limit: &Limit, occasions: Option<&Occasions>, unit: &str) -> Judged {
    let Some(occasions) = occasions else { return judged };
    let (threshold, occasions) = (brief(occasions.above), &occasions.stretches);
    let seen =
        format!("the tubes show {} occasions above {threshold} {unit}, the TWA limit", occasions.len());
    if let Some(most) = limit.at_most.filter(|&most| occasions.len() > most as usize) {
        return Judged { verdict: Verdict::Above, because: format!("{seen}, at most {most} are allowed") };
    }
    let gap = occasions.windows(2).map(|pair| pair[1].0 - pair[0].1).min_by(f64::total_cmp);
    match (limit.at_least_apart, gap) {
        (Some(apart), Some(gap)) if gap < apart.0 => Judged {
            verdict: Verdict::Above,
            because: format!(
                "{seen}, two of them {} minutes apart; at least {} are required",
                brief(gap),
                brief(apart.0)
            ),
        },
        _ => judged,
    }
}

/// The readings of a shift against a ceiling; `highest_low` is the highest lower end among them, `highest_high` the
/// highest upper end.
pub fn ceiling(ends: Option<(f64, f64)>, limit: f64, unit: &str) -> Judged {
    let Some((highest_low, highest_high)) = ends else {
        return judged(Verdict::NotGiven, "no tube was drawn in this shift that counts for it".to_owned());
    };
    let limit_text = brief(limit);
    match (highest_low > limit, highest_high <= limit) {
        (true, _) => judged(
            Verdict::Above,
            format!("a reading of at least {} {unit} lies above {limit_text} {unit}", brief(highest_low)),
        ),
        (_, true) => judged(
            Verdict::Below,
            format!("no reading lies above {limit_text} {unit}; between the readings nothing is known"),
        ),
        _ => judged(
            Verdict::Undecided,
            format!("a reading of up to {} {unit} may lie above {limit_text} {unit}", brief(highest_high)),
        ),
    }
}

#[cfg(test)]
mod tests;
