//! Words that the letters of the program cannot write: in a picture made of pixels a number stands for them, so that no name
//! vanishes from it and every machine draws the same.

use super::shape::{Drawing, Shape};
use skrifa::{FontRef, MetadataProvider};
use unicode_width::UnicodeWidthChar;

/// The drawing with `[1]`, `[2]`, ... for what cannot be written, and the words for which they stand.
pub(super) fn numbered(drawing: &Drawing, face: &[u8]) -> (Drawing, Vec<String>) {
    let mut drawing = drawing.clone();
    let mut unwritten = Vec::new();
    let Ok(face) = FontRef::new(face) else { return (drawing, unwritten) };
    let letters = face.charmap();
    let lacks = |letter: char| letter.width().unwrap_or(0) > 0 && letters.map(letter).is_none();
    for shape in &mut drawing.shapes {
        if let Shape::Words { words, .. } = shape {
            *words = put_numbers(words, &lacks, &mut unwritten);
        }
    }
    (drawing, unwritten)
}

fn put_numbers(words: &str, lacks: &dyn Fn(char) -> bool, unwritten: &mut Vec<String>) -> String {
    let (mut written, mut rest) = (String::new(), words);
    while let Some(start) = rest.find(lacks) {
        // A stretch goes on over blanks and signs without width to its last letter that is lacking.
        let goes_on = |letter: char| lacks(letter) || letter == ' ' || letter.width().unwrap_or(0) == 0;
        let tail = &rest[start..];
        let stretch = &tail[..tail.find(|letter| !goes_on(letter)).unwrap_or(tail.len())];
        let stretch = stretch.trim_end();
        let known = unwritten.iter().position(|known| known == stretch);
        let number = known.unwrap_or_else(|| {
            unwritten.push(stretch.to_owned());
            unwritten.len() - 1
        });
        written += &format!("{}[{}]", &rest[..start], number + 1);
        rest = &tail[stretch.len()..];
    }
    written + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretch_that_cannot_be_written_gets_a_number_and_the_same_one_again() {
        let lacks = |letter: char| !letter.is_ascii() && letter.width().unwrap_or(0) > 0;
        let mut unwritten = Vec::new();
        let mut put = |words: &str| put_numbers(words, &lacks, &mut unwritten);
        assert_eq!(put("plain words"), "plain words");
        assert_eq!(put("王 小明, turning"), "[1], turning");
        assert_eq!(put("W1 👍\u{fe0f} 王 小明"), "W1 [2]");
        assert_eq!(put("again 王 小明"), "again [1]");
        assert_eq!(unwritten, ["王 小明", "👍\u{fe0f} 王 小明"]);
    }
}
