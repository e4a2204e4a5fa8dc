//! One shift against one limit.

use crate::model::profile::Verdict;
use crate::model::shift::Window;
use crate::model::{Interval, Minutes, brief, brief_range};

/// Tubes in a short-term window from which on it counts as measured rather than screened (common practice, no source).
pub const TUBES_FOR_A_WINDOW: usize = 3;

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

/// The TWA of a shift, as measured, against its limit; both in `unit`.
pub fn twa(twa: &Result<Interval, String>, limit: f64, unit: &str) -> Judged {
    let interval = match twa {
        Ok(interval) => interval,
        Err(reason) => return judged(Verdict::NotGiven, reason.clone()),
    };
    let measured = format!("the TWA as measured is {} {unit}", brief_range(interval.low(), interval.high()));
    match (interval.low() > limit, interval.high() <= limit) {
        (true, _) => judged(Verdict::Above, format!("{measured}, above {} {unit}", brief(limit))),
        (_, true) => judged(Verdict::Below, format!("{measured}, not above {} {unit}", brief(limit))),
        _ => judged(
            Verdict::Undecided,
            format!("{measured}, and {} {unit} lies inside that range", brief(limit)),
        ),
    }
}

/// The highest window of a shift against a short-term limit; both in `unit`.
pub fn short_term(window: &Result<Window, String>, length: Minutes, limit: f64, unit: &str) -> Judged {
    let window = match window {
        Ok(window) => window,
        Err(reason) => return judged(Verdict::NotGiven, reason.clone()),
    };
    let tubes = window.readings.len();
    let measured = format!(
        "the highest {} minutes as measured are {} {unit} from {tubes} {}",
        brief(length.0),
        brief_range(window.mean.low(), window.mean.high()),
        if tubes == 1 { "tube" } else { "tubes" }
    );
    if window.mean.low() > limit {
        return judged(Verdict::Above, format!("{measured}, above {} {unit}", brief(limit)));
    }
    if tubes < TUBES_FOR_A_WINDOW {
        let message =
            format!("{measured}: fewer than {TUBES_FOR_A_WINDOW} tubes in the window, screening only");
        return judged(Verdict::Undecided, message);
    }
    if window.bound <= limit {
        let held = brief(window.bound);
        let message = format!(
            "{measured}; even the highest reading, {held} {unit}, held for the whole window is not above {}",
            brief(limit)
        );
        return judged(Verdict::Below, message);
    }
    let held = brief(window.bound);
    judged(
        Verdict::Undecided,
        format!("{measured}, but the highest reading held for the whole window would be {held} {unit}"),
    )
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
