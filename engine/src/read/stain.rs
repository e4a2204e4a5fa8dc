//! The notation of a stain: `12`, `10..15`, `<5`, `>100`, `8/14`.

use super::number::{Comma, NotANumber, number};
use super::quantity::concentration_unit;
use crate::model::Stain;

/// What is wrong with a stain.
#[derive(Debug, PartialEq)]
pub enum Complaint {
    /// Its form.
    Form(String),
    /// This number's comma may part decimals or thousands.
    Comma(String),
}

/// Reads a stain.
pub fn stain(text: &str, comma: Comma) -> Result<Stain, Complaint> {
    let text = text.trim();
    // Nearly every stain is a number alone.
    if let Some(value) = number(text, comma).ok().filter(|value| value.is_sign_positive()) {
        return Ok(Stain::At(value));
    }
    if let Some(words) = meant_otherwise(text, comma) {
        return Err(Complaint::Form(words));
    }
    if let Some(rest) = text.strip_prefix('<') {
        return Ok(Stain::Below(mark(rest, comma)?));
    }
    if let Some(rest) = text.strip_prefix('>') {
        return Ok(Stain::Past(mark(rest, comma)?));
    }
    if text.contains("...") {
        return Err(Complaint::Form("two dots stand between the marks, as 10..15".to_owned()));
    }
    if let Some((low, high)) = text.split_once("..") {
        return match (mark(low, comma)?, mark(high, comma)?) {
            (low, high) if low < high => Ok(Stain::Between(low, high)),
            _ => Err(Complaint::Form(
                "a stain between two marks is written with the lower mark first".to_owned(),
            )),
        };
    }
    if let Some((short, long)) = text.split_once('/') {
        return match (mark(short, comma)?, mark(long, comma)?) {
            (short, long) if short < long => Ok(Stain::Slanted(short, long)),
            _ => Err(Complaint::Form("a slanted stain is written with its shortest point first".to_owned())),
        };
    }
    mark(text, comma).map(Stain::At)
}

/// What people write between two marks.
const BETWEEN: [&str; 4] = ["-", "\u{2013}", " to ", " bis "];

/// What a slip that is often made was meant to be: `12-15`, `18 ppm`.
fn meant_otherwise(text: &str, comma: Comma) -> Option<String> {
    let is_number = |part: &str| number(part.trim(), comma).is_ok_and(|value| value >= 0.0);
    let parted =
        |between: &str| text.split_once(between).filter(|(low, high)| is_number(low) && is_number(high));
    if let Some((low, high)) = BETWEEN.iter().find_map(|between| parted(between)) {
        return Some(format!("between two marks `{text}` is written {}..{}", low.trim(), high.trim()));
    }
    let unit = text.find(|c: char| c.is_alphabetic() || c == '\u{b5}').map(|at| &text[at..])?;
    concentration_unit(unit)
        .is_ok()
        .then(|| format!("`{text}`: the unit is that of the tube's scale and is left out here"))
}

fn mark(text: &str, comma: Comma) -> Result<f64, Complaint> {
    let text = text.trim();
    match number(text, comma) {
        Ok(value) if value >= 0.0 && !text.starts_with('-') => Ok(value),
        Ok(_) => Err(Complaint::Form("a stain cannot be negative".to_owned())),
        Err(NotANumber::TooLarge) => Err(Complaint::Form(format!("{text} is larger than any stain can be"))),
        Err(NotANumber::AmbiguousComma) => Err(Complaint::Comma(text.to_owned())),
        Err(NotANumber::Unreadable) => Err(Complaint::Form(format!("`{text}` is not a number"))),
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
    fn a_slip_that_is_often_made_is_told_what_it_was_meant_to_be() {
        let told = |text| match stain(text, Comma::Doubtful) {
            Err(Complaint::Form(message)) => message,
            other => format!("{other:?}"),
        };
        assert_eq!(told("12-15"), "between two marks `12-15` is written 12..15");
        assert_eq!(told("18 ppm"), "`18 ppm`: the unit is that of the tube's scale and is left out here");
        assert_eq!(told("10 bis 20"), "between two marks `10 bis 20` is written 10..20");
        for text in ["12 mg/m3", "<5 ppm", "10..15ppm"] {
            let words = format!("`{text}`: the unit is that of the tube's scale and is left out here");
            assert_eq!(told(text), words);
        }
        assert_eq!(told("18 blue"), "`18 blue` is not a number");
        assert_eq!(told("-3"), "a stain cannot be negative");
        assert_eq!(told("3-"), "`3-` is not a number");
    }

    #[test]
    fn what_is_written_is_read_back() {
        for text in ["12.5", "10..15", "<5", ">100", "8/14"] {
            assert_eq!(stain(text, Comma::Doubtful).map(written), Ok(text.to_owned()));
        }
    }
}
