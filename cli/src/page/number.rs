//! The one place where a number of a page becomes digits. The data files keep full precision.
//!
//! A figure has three significant digits, rounded exactly as the engine's own sentences round, so that a number that
//! stands in a sentence and in a table is the same number: 112, 11.2, 0.083.

use fullshift_engine::model::step::brief;

/// What stands where there is no number.
const NO_NUMBER: &str = "not given";

/// How a language writes numbers and what surrounds them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Notation {
    /// The decimal sign.
    pub(crate) decimal: char,
    /// What parts the two ends of a range.
    pub(crate) between: &'static str,
    /// A lower end alone, as `at least {end}`.
    pub(crate) at_least: &'static str,
    /// An upper end alone.
    pub(crate) at_most: &'static str,
    /// What stands where there is no number.
    pub(crate) not_given: &'static str,
}

/// The notation of the terminal and of English reports.
pub(crate) const ENGLISH: Notation = Notation {
    decimal: '.',
    between: ", ",
    at_least: "at least {end}",
    at_most: "at most {end}",
    not_given: NO_NUMBER,
};

impl Notation {
    /// Printed digits with this language's decimal sign; a point that parts no digits stays.
    pub(crate) fn digits(&self, printed: &str) -> String {
        let characters: Vec<char> = printed.chars().collect();
        let digit =
            |at: Option<usize>| at.and_then(|at| characters.get(at)).is_some_and(char::is_ascii_digit);
        let sign = |(at, &character): (usize, &char)| match character {
            '.' if digit(at.checked_sub(1)) && digit(Some(at + 1)) => self.decimal,
            other => other,
        };
        characters.iter().enumerate().map(sign).collect()
    }
}

/// A number as the pages print it.
pub(crate) fn number(value: f64) -> String {
    if value.is_finite() { brief(unsigned_zero(value)) } else { NO_NUMBER.to_owned() }
}

/// A range from `low` to `high`.
pub(crate) fn range(low: f64, high: f64) -> String {
    format!("[{}, {}]", number(low), number(high))
}

/// A ratio to a limit: digits are added until a value beside 1 no longer looks like 1.
pub(crate) fn ratio(value: f64) -> String {
    let shown = number(value);
    if shown != "1" || value == 1.0 {
        return shown;
    }
    (3..=15).map(|n| format!("{value:.n$}")).find(|s| s.parse() != Ok(1.0)).unwrap_or(shown)
}

/// A share in whole per cent, for a column to glance at; a small one does not look like none, nor a large one like all.
pub(crate) fn percent(share: f64) -> String {
    match unsigned_zero(100.0 * share) {
        p if !p.is_finite() => NO_NUMBER.to_owned(),
        p if p > 0.0 && p < 0.5 => "<1 %".to_owned(),
        p if (99.5..100.0).contains(&p) => ">99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// A share as a percentage of three digits; a small one does not look like none, nor a large one like all.
pub(crate) fn share(share: f64) -> String {
    let percent = 100.0 * share;
    match number(percent) {
        _ if percent > 0.0 && percent < 0.001 => "<0.001 %".to_owned(),
        shown if shown == "100" && share < 1.0 => ">99.9 %".to_owned(),
        shown if percent.is_finite() => format!("{shown} %"),
        not_given => not_given,
    }
}

/// Words with every number in them, written with that decimal sign, cut to `digits` significant digits where it has more.
pub(crate) fn cut_in(words: &str, digits: usize, decimal: char) -> String {
    let number = |part: &str| -> Option<String> {
        let (before, after) = part.split_once(decimal)?;
        let given = part.trim_start_matches(['0', decimal]).bytes().filter(u8::is_ascii_digit).count();
        let all_digits =
            [before, after].iter().all(|d| !d.is_empty() && d.bytes().all(|b| b.is_ascii_digit()));
        let value: f64 = part.replace(decimal, ".").parse().ok().filter(|_| all_digits && given > digits)?;
        let rounded: f64 = format!("{value:.*e}", digits - 1).parse().ok()?;
        Some(format!("{rounded}").replace('.', &decimal.to_string()))
    };
    let cut = |part: &str| {
        let bare = part.trim_end_matches([',', ';']);
        number(bare).map_or_else(|| part.to_owned(), |number| number + &part[bare.len()..])
    };
    words.split(' ').map(cut).collect::<Vec<String>>().join(" ")
}

/// A relative error, to its order of magnitude.
pub(crate) fn error(value: f64) -> String {
    match value {
        0.0 => "0".to_owned(),
        value if value.is_finite() => format!("{value:.0e}"),
        _ => NO_NUMBER.to_owned(),
    }
}

/// A number that the user entered: as entered, and only a long one, which a conversion has left, to four digits.
pub(crate) fn entered(value: f64) -> String {
    let exact = format!("{value}");
    match exact.bytes().filter(u8::is_ascii_digit).count() {
        _ if !value.is_finite() => NO_NUMBER.to_owned(),
        ..=6 => exact,
        _ => format!("{}", significant(value, 4)),
    }
}

/// A converted concentration: four digits, so that conventions that differ in the fourth can be told apart.
pub(crate) fn converted(value: f64) -> String {
    if !value.is_finite() {
        return NO_NUMBER.to_owned();
    }
    let rounded = significant(value, 4);
    let size = if rounded == 0.0 { 3.0 } else { rounded.abs().log10().floor() };
    let decimals = (3.0 - size).clamp(0.0, 300.0) as usize;
    format!("{rounded:.decimals$}")
}

/// An empty sum is minus zero, which nobody wants to read.
fn unsigned_zero(value: f64) -> f64 {
    if value == 0.0 { 0.0 } else { value }
}

fn significant(value: f64, digits: usize) -> f64 {
    let after_the_first = digits - 1;
    format!("{value:.after_the_first$e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_digits_that_a_hygienist_would_write() {
        let cases = [
            (112.4, "112"),
            (11.24, "11.2"),
            (2.0, "2"),
            (0.08324, "0.0832"),
            (0.0, "0"),
            (1234.0, "1230"),
            (9.996, "10"),
            (-3.456, "-3.46"),
        ];
        for (value, expected) in cases {
            assert_eq!(number(value), expected);
        }
        assert_eq!(range(8.1, 12.44), "[8.1, 12.4]");
    }

    #[test]
    fn a_decimal_comma_stands_between_digits_only() {
        let german = Notation { decimal: ',', ..ENGLISH };
        assert_eq!(german.digits("5.25 % [0.975; 19.5]. Ende."), "5,25 % [0,975; 19,5]. Ende.");
    }

    #[test]
    fn a_ratio_beside_one_never_looks_like_one() {
        for (value, expected) in
            [(0.9996, "0.9996"), (1.0004, "1.0004"), (1.0, "1"), (0.99996, "0.99996"), (0.91, "0.91")]
        {
            assert_eq!(ratio(value), expected);
        }
    }

    #[test]
    fn a_share_is_a_percentage_that_is_never_rounded_to_none_or_all() {
        let cases = [
            (0.83, "83 %", "83 %"),
            (0.0, "0 %", "0 %"),
            (1.0, "100 %", "100 %"),
            (0.9999, ">99 %", ">99.9 %"),
            (0.000004, "<1 %", "<0.001 %"),
            (0.0527, "5 %", "5.27 %"),
        ];
        for (value, whole, fine) in cases {
            assert_eq!([percent(value), share(value)], [whole, fine]);
        }
    }

    #[test]
    fn minus_zero_is_zero() {
        assert_eq!([number(-0.0), percent(-0.0), share(-0.0), ratio(-0.0)], ["0", "0 %", "0 %", "0"]);
    }

    #[test]
    fn an_entered_number_stays_as_entered() {
        for (value, expected) in [(20.0, "20"), (0.125, "0.125"), (1250.0, "1250"), (28.718293, "28.72")] {
            assert_eq!(entered(value), expected);
        }
    }

    #[test]
    fn a_converted_number_keeps_four_digits() {
        let cases = [
            (17.4022, "17.40"),
            (0.0719, "0.07190"),
            (12345.6, "12350"),
            (0.0, "0"),
            (9.99996, "10.00"),
            (1.5e-9, "0.000000001500"),
        ];
        for (value, expected) in cases {
            assert_eq!(converted(value), expected);
        }
    }

    #[test]
    fn numbers_in_words_keep_no_more_digits_than_asked_for() {
        assert_eq!(
            cut_in("air pressure x 1.02452; unit x 0.707783", 4, '.'),
            "air pressure x 1.025; unit x 0.7078"
        );
        assert_eq!(cut_in("amines: 17.5478 to 19.5478 ppm", 4, '.'), "amines: 17.55 to 19.55 ppm");
        assert_eq!(cut_in("Luftdruck × 1,02452; Einheit", 4, ','), "Luftdruck × 1,025; Einheit");
        assert_eq!(cut_in("R1.23456x has 120.4 of 123456", 4, '.'), "R1.23456x has 120.4 of 123456");
    }

    #[test]
    fn what_is_no_number_is_not_given() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let shown =
                [number(value), ratio(value), percent(value), share(value), entered(value), converted(value)];
            assert!(shown.iter().all(|s| s == NO_NUMBER), "{shown:?}");
        }
    }
}
