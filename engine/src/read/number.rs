//! Numbers as people type them: decimal point or comma.

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

/// Reads a number; `NaN` and infinities are none.
pub fn number(text: &str, comma: Comma) -> Result<f64, NotANumber> {
    let text = text.trim();
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
    match value {
        Ok(value) if f64::is_finite(value) => Ok(value),
        Ok(_) => Err(NotANumber::TooLarge),
        Err(_) => Err(NotANumber::Unreadable),
    }
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
    fn what_is_no_number_is_refused() {
        for text in ["", "NaN", "inf", "-inf", "twelve", "1,2,3", "1.234,5", "0x10", "1 2", "--1"] {
            assert_eq!(number(text, Comma::Decimal), Err(NotANumber::Unreadable), "{text}");
        }
        assert_eq!(number("1e400", Comma::Doubtful), Err(NotANumber::TooLarge));
    }
}
