//! The notation of a stain: `12`, `10..15`, `<5`, `>100`, `8/14`.

use super::number::{Comma, NotANumber, number};
use crate::model::Stain;

/// Reads a stain; the error says what is wrong with it.
pub fn stain(text: &str, comma: Comma) -> Result<Stain, String> {
    let text = text.trim();
    if let Some(rest) = text.strip_prefix('<') {
        return Ok(Stain::Below(mark(rest, comma)?));
    }
    if let Some(rest) = text.strip_prefix('>') {
        return Ok(Stain::Past(mark(rest, comma)?));
    }
    if let Some((low, high)) = text.split_once("..") {
        return pair(mark(low, comma)?, mark(high, comma)?, "between two marks")
            .map(|(l, h)| Stain::Between(l, h));
    }
    if let Some((short, long)) = text.split_once('/') {
        let (short, long) = (mark(short, comma)?, mark(long, comma)?);
        return pair(short, long, "slanted").map(|(s, l)| Stain::Slanted(s, l));
    }
    mark(text, comma).map(Stain::At)
}

fn pair(low: f64, high: f64, what: &str) -> Result<(f64, f64), String> {
    if low < high { Ok((low, high)) } else { Err(format!("a stain {what} needs the smaller number first")) }
}

fn mark(text: &str, comma: Comma) -> Result<f64, String> {
    match number(text, comma) {
        Ok(value) if value >= 0.0 && !(value == 0.0 && value.is_sign_negative()) => Ok(value),
        Ok(_) => Err("a stain cannot be negative".to_owned()),
        Err(NotANumber::TooLarge) => Err(format!("{} is larger than any stain can be", text.trim())),
        Err(NotANumber::AmbiguousComma) => {
            Err(format!("the comma in {} may part decimals or thousands", text.trim()))
        }
        Err(NotANumber::Unreadable) => Err(format!("`{}` is not a number", text.trim())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::reading::written;

    #[test]
    fn every_notation_is_read() {
        let read = |text| stain(text, Comma::Doubtful);
        assert_eq!(read("12"), Ok(Stain::At(12.0)));
        assert_eq!(read("10..15"), Ok(Stain::Between(10.0, 15.0)));
        assert_eq!(read("< 5"), Ok(Stain::Below(5.0)));
        assert_eq!(read(">100"), Ok(Stain::Past(100.0)));
        assert_eq!(read("8/14"), Ok(Stain::Slanted(8.0, 14.0)));
        assert_eq!(stain("2,5..5", Comma::Decimal), Ok(Stain::Between(2.5, 5.0)));
    }

    #[test]
    fn what_is_no_stain_is_refused() {
        for text in ["", "-3", "NaN", "1e400", "14/8", "15..10", "10..", "<", "5-10", "-0"] {
            assert!(stain(text, Comma::Doubtful).is_err(), "{text}");
        }
    }

    #[test]
    fn what_is_written_is_read_back() {
        for text in ["12.5", "10..15", "<5", ">100", "8/14"] {
            assert_eq!(stain(text, Comma::Doubtful).map(written).as_deref(), Ok(text));
        }
    }
}
