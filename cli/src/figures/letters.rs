//! How wide words are, so that they can be placed without a font at hand.

use unicode_width::UnicodeWidthChar;

/// Width of words in the sans-serif faces that reports use, a little on the safe side.
pub(crate) fn width(words: &str, size: f64) -> f64 {
    words.chars().map(of).sum::<f64>() * size
}

/// Widths in parts of the letter height, as Liberation Sans has them, rounded up.
fn of(character: char) -> f64 {
    match character {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' => 0.28,
        ' ' | 't' | 'f' | 'r' | 'I' | '/' | '-' | '(' | ')' | '[' | ']' => 0.34,
        'm' | 'M' | 'W' | '%' | '…' => 0.95,
        'w' | 'A'..='Z' => 0.75,
        _ => match character.width() {
            Some(0) => 0.0,
            Some(1) => 0.58,
            _ => 1.1,
        },
    }
}

/// Words that fit into a width; what is cut ends with three dots.
pub(super) fn cut(words: &str, size: f64, widest: f64) -> String {
    if width(words, size) <= widest {
        return words.to_owned();
    }
    let mut kept = String::new();
    for character in words.chars() {
        if width(&kept, size) + (of(character) + of('…')) * size > widest {
            break;
        }
        kept.push(character);
    }
    kept.trim_end().to_owned() + "…"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_do_not_fit_are_cut_and_those_that_do_stay() {
        assert_eq!(cut("turning", 10.0, 60.0), "turning");
        let long = cut(&"long ".repeat(50), 10.0, 60.0);
        assert!(long.ends_with('…') && width(&long, 10.0) <= 60.0, "{long}");
    }
}
