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

/// Words that fit into a width; of those that do not, the beginning and the end stay, because names often differ at their
/// end.
pub(super) fn cut(words: &str, size: f64, widest: f64) -> String {
    if width(words, size) <= widest {
        return words.to_owned();
    }
    let room = widest / size - of('…');
    let kept = |letters: &mut dyn Iterator<Item = char>, room: f64| -> String {
        let mut used = 0.0;
        let fits = |letter: &char| {
            used += of(*letter);
            used <= room
        };
        letters.take_while(fits).collect()
    };
    let end: String = kept(&mut words.chars().rev(), 0.35 * room).chars().rev().collect();
    let begin = kept(&mut words.chars(), room - width(&end, 1.0));
    format!("{}…{}", begin.trim_end(), end.trim_start())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_do_not_fit_are_cut_and_those_that_do_stay() {
        assert_eq!(cut("turning", 10.0, 60.0), "turning");
        let long = cut("Maximiliane of the very long name 12", 10.0, 90.0);
        assert!(long.starts_with("Maximil") && long.ends_with("12") && width(&long, 10.0) <= 90.0, "{long}");
        assert_eq!(cut("Maximiliane", 10.0, 12.0), "…");
    }
}
