//! Numbers as people type them: decimal point or comma.

use std::borrow::Cow;

/// Why a text is no number.
#[derive(Debug, PartialEq, Eq, Clone, Copy)]
pub enum NotANumber {
    /// It cannot be read as a number.
    Unreadable,
    /// It is larger than any number can be.
    TooLarge,
    /// Its comma may part thousands as well as decimals.
    AmbiguousComma,
}

/// How a comma in a number is meant.
#[derive(Debug, PartialEq, Eq, Clone, Copy)]
pub enum Comma {
    /// It parts decimals (the table uses `;` or tabs between cells).
    Decimal,
    /// It may part thousands: `1,234` could be either.
    Doubtful,
}

/// Blanks that part thousands: the plain one, the unbreakable ones and the thin one.
const THOUSANDS: [char; 4] = [' ', '\u{a0}', '\u{202f}', '\u{2009}'];

/// The text without blanks that part groups of three digits, as in `1 234,5`.
fn without_thousands(text: &str) -> Cow<'_, str> {
    if !text.contains(THOUSANDS) {
        return Cow::Borrowed(text);
    }
    let whole = text.find(['.', ',']).unwrap_or(text.len());
    let digits = |group: &str| !group.is_empty() && group.bytes().all(|b| b.is_ascii_digit());
    let mut groups = text[..whole].split(THOUSANDS);
    let first = groups.next().is_some_and(|g| digits(g.trim_start_matches(['+', '-'])) && g.len() <= 4);
    match first && groups.all(|g| digits(g) && g.len() == 3) {
        true => Cow::Owned(text.replace(THOUSANDS, "")),
        false => Cow::Borrowed(text),
    }
}

/// Where a number at the start of a text ends; blanks that part thousands belong to it.
pub fn digits_end(text: &str, from: usize) -> usize {
    let mut end = from;
    loop {
        end += text[end..].bytes().take_while(|b| b"0123456789.,".contains(b)).count();
        let Some(blank) = text[end..].chars().next().filter(|c| THOUSANDS.contains(c)) else { return end };
        let group = &text[end + blank.len_utf8()..];
        let digits = group.bytes().take_while(u8::is_ascii_digit).count();
        if end == from || digits != 3 || text[from..end].contains(['.', ',']) {
            return end;
        }
        end += blank.len_utf8() + digits;
    }
}

/// Reads a number; `NaN` and infinities are none.
pub fn number(text: &str, comma: Comma) -> Result<f64, NotANumber> {
    // Digits and a point, as nearly all numbers are, leave no doubt.
    if text.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
        return text.parse().map_err(|_| NotANumber::Unreadable).and_then(finite);
    }
    let text = &*without_thousands(text.trim());
    let plain = text.strip_prefix(['+', '-']).unwrap_or(text);
    if plain.is_empty() || !plain.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',') {
        return Err(NotANumber::Unreadable);
    }
    let value = match text.matches(',').count() {
        0 => text.parse(),
        1 if !text.contains('.') => {
            let decimals = text.rsplit(',').next().map_or(0, |d| d.len());
            if comma == Comma::Doubtful && decimals == 3 && !plain.starts_with("0,") {
                return Err(NotANumber::AmbiguousComma);
            }
            text.replacen(',', ".", 1).parse()
        }
        _ => return Err(NotANumber::Unreadable),
    };
    value.map_err(|_| NotANumber::Unreadable).and_then(finite)
}

fn finite(value: f64) -> Result<f64, NotANumber> {
    if value.is_finite() { Ok(value) } else { Err(NotANumber::TooLarge) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn point_and_comma_part_decimals() {
        assert_eq!(number("12.5", Comma::Doubtful), Ok(12.5));
        assert_eq!(number(" 12,5 ", Comma::Doubtful), Ok(12.5));
        assert_eq!(number("1,234", Comma::Decimal), Ok(1.234));
        assert_eq!(number("0,125", Comma::Doubtful), Ok(0.125));
        assert_eq!(number("-3", Comma::Doubtful), Ok(-3.0));
        assert_eq!(number("2e1", Comma::Doubtful), Ok(20.0));
    }

    #[test]
    fn a_comma_before_three_digits_is_doubtful() {
        assert_eq!(number("1,234", Comma::Doubtful), Err(NotANumber::AmbiguousComma));
    }

    #[test]
    fn blanks_part_thousands_only_between_groups_of_three_digits() {
        assert_eq!(number("1 234,5", Comma::Decimal), Ok(1234.5));
        assert_eq!(number("12\u{a0}345\u{a0}678", Comma::Doubtful), Ok(12_345_678.0));
        assert_eq!(number("-1\u{202f}013.25", Comma::Doubtful), Ok(-1013.25));
        for text in ["1 23", "12 3456", "1234 5678 9", "1  234", "1 234 5"] {
            assert_eq!(number(text, Comma::Decimal), Err(NotANumber::Unreadable), "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in ["", "NaN", "inf", "-inf", "twelve", "1,2,3", "1.234,5", "0x10", "1 2", "--1"] {
            assert_eq!(number(text, Comma::Decimal), Err(NotANumber::Unreadable), "{text}");
        }
        assert_eq!(number("1e400", Comma::Doubtful), Err(NotANumber::TooLarge));
    }
}
