//! A figure in words: its value with its range, or what is known of it.

use super::number::{self, ENGLISH, Notation};
use fullshift_engine::model::Figure;
use fullshift_engine::model::figure::Estimate;

/// What kind of number a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Form {
    /// A concentration or a pure number.
    Amount,
    /// A share of a limit, where 1 is the limit itself.
    Ratio,
    /// A share of a whole, printed as a percentage.
    Share,
}

impl Form {
    fn digits(self, value: f64) -> String {
        match self {
            Form::Amount => number::number(value),
            Form::Ratio => number::ratio(value),
            Form::Share => number::share(value),
        }
    }

    fn range(self, (low, value, high): (f64, f64, f64), by_chance: bool, notation: &Notation) -> String {
        let upper = if by_chance { self.upper_limit(value, high) } else { self.digits(high) };
        format!("[{}{}{upper}]", self.digits(low), notation.between)
    }

    /// The upper limit of a value: one that chance leaves absurdly high is told by what it is above of; the data files have it.
    pub(crate) fn upper_limit(self, value: f64, high: f64) -> String {
        let useless = USELESS * value;
        match self != Form::Share && value > 0.0 && high > useless {
            true => format!(">{}", self.digits(useless).trim_start_matches('>')),
            false => self.digits(high),
        }
    }
}

/// An upper limit this many times its value says no more than that.
const USELESS: f64 = 100.0;

/// A figure without its unit, as a table holds it.
pub(crate) fn bare(figure: &Figure, form: Form) -> String {
    shown(figure, form, "", &ENGLISH)
}

/// The same in the notation of another language.
pub(crate) fn bare_in(figure: &Figure, form: Form, notation: &Notation) -> String {
    notation.digits(&shown(figure, form, "", notation))
}

/// A figure with its unit in the notation of another language.
pub(crate) fn with_unit_in(figure: &Figure, form: Form, notation: &Notation) -> String {
    notation.digits(&shown(figure, form, figure.unit(), notation))
}

/// A figure with its unit, as a sentence holds it.
pub(crate) fn with_unit(figure: &Figure, form: Form) -> String {
    shown(figure, form, figure.unit(), &ENGLISH)
}

/// What the ranges of some figures are, said once for all of them; nothing where none has a range.
pub(crate) fn ranges_are<'a>(figures: impl Iterator<Item = &'a Figure>) -> Option<String> {
    let (mut limits, mut open) = (None, false);
    for figure in figures {
        match figure {
            Figure::Given(Estimate { low: Some(low), high: Some(high), confidence, .. }) if low < high => {
                limits = limits.or(*confidence);
                open |= confidence.is_none();
            }
            _ => {}
        }
    }
    let limits = limits.map(number::percent);
    match (limits, open) {
        (Some(limit), false) => Some(format!("[ ] one-sided {limit} limits")),
        (Some(limit), true) => Some(format!("[ ] one-sided {limit} limits, or what marks leave open")),
        (None, true) => Some("[ ] left open by marks and unsampled time".to_owned()),
        (None, false) => None,
    }
}

/// A limit with its unit, as the user entered it.
pub(crate) fn limit(figure: &Figure) -> String {
    let value = figure.value().map_or_else(|| number::number(f64::NAN), number::entered);
    spaced(&value, figure.unit())
}

fn shown(figure: &Figure, form: Form, unit: &str, notation: &Notation) -> String {
    match figure {
        Figure::Given(estimate) => given(estimate, form, unit, notation),
        Figure::AtLeast { low, .. } => notation.at_least.replace("{end}", &spaced(&form.digits(*low), unit)),
        Figure::NotGiven { .. } => notation.not_given.to_owned(),
    }
}

fn given(estimate: &Estimate, form: Form, unit: &str, notation: &Notation) -> String {
    let digits = form.digits(estimate.value);
    let value = spaced(&digits, unit);
    let one_end = |words: &str, end: f64| format!("{value} ({})", words.replace("{end}", &form.digits(end)));
    match (estimate.low, estimate.high) {
        (Some(low), Some(high)) if [low, high].iter().all(|&end| form.digits(end) == digits) => value,
        (Some(low), Some(high)) => {
            let by_chance = estimate.confidence.is_some();
            format!("{value} {}", form.range((low, estimate.value, high), by_chance, notation))
        }
        (Some(low), None) => one_end(notation.at_least, low),
        (None, Some(high)) => one_end(notation.at_most, high),
        (None, None) => value,
    }
}

fn spaced(value: &str, unit: &str) -> String {
    if unit.is_empty() { value.to_owned() } else { format!("{value} {unit}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn open(low: Option<f64>, high: Option<f64>) -> Figure {
        Figure::estimate(11.2, (low, high), 0.95, "ppm", "", Some("too few".to_owned()))
    }

    #[test]
    fn a_value_with_its_range_and_unit() {
        let figure = Figure::between(11.2, 8.13, 12.44, "ppm", "");
        assert_eq!(with_unit(&figure, Form::Amount), "11.2 ppm [8.13, 12.4]");
        assert_eq!(bare(&figure, Form::Amount), "11.2 [8.13, 12.4]");
    }

    #[test]
    fn a_point_has_no_range() {
        assert_eq!(bare(&Figure::between(12.0, 12.0, 12.0, "ppm", ""), Form::Amount), "12");
        assert_eq!(bare(&Figure::between(17.3, 17.301, 17.31, "ppm", ""), Form::Amount), "17.3");
    }

    #[test]
    fn one_end_alone_is_said_in_words() {
        assert_eq!(bare(&open(Some(8.13), None), Form::Amount), "11.2 (at least 8.13)");
        assert_eq!(bare(&open(None, Some(14.44)), Form::Amount), "11.2 (at most 14.4)");
        assert_eq!(bare(&open(None, None), Form::Amount), "11.2");
    }

    #[test]
    fn an_upper_limit_beyond_all_use_is_no_number_to_be_signed() {
        let p95 = |high| Figure::estimate(2.54, (Some(1.35), Some(high)), 0.95, "ppm", "", None);
        assert_eq!(bare(&p95(254.0), Form::Amount), "2.54 [1.35, 254]");
        assert_eq!(bare(&p95(1.46e6), Form::Amount), "2.54 [1.35, >254]");
        assert_eq!(bare(&Figure::between(2.0, 0.0, 900.0, "ppm", ""), Form::Amount), "2 [0, 900]");
    }

    #[test]
    fn what_has_no_value_says_so() {
        let past = Figure::AtLeast {
            low: 100.0,
            unit: "ppm".to_owned(),
            not_given: "past the last mark".to_owned(),
            trail: Vec::new(),
        };
        assert_eq!(with_unit(&past, Form::Amount), "at least 100 ppm");
        assert_eq!(with_unit(&Figure::not_given("no reading"), Form::Amount), "not given");
    }

    #[test]
    fn a_limit_is_printed_as_it_was_entered() {
        assert_eq!(limit(&Figure::between(20.0, 20.0, 20.0, "ppm", "")), "20 ppm");
        assert_eq!(limit(&Figure::between(0.125, 0.125, 0.125, "mg/m3", "")), "0.125 mg/m3");
    }

    #[test]
    fn a_share_is_a_percentage() {
        assert_eq!(bare(&Figure::between(0.052, 0.01, 0.3, "", ""), Form::Share), "5.2 % [1 %, 30 %]");
    }
}
