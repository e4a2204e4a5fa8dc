//! Breaking text into lines, and how wide a text is on the screen.

use crate::page::{Text, Tone};
use unicode_width::UnicodeWidthChar;

/// Columns that a text takes.
pub(super) fn columns(text: &Text) -> usize {
    text.stretches().flat_map(|(_, words)| words.chars()).map(columns_of).sum()
}

/// Columns that a character takes.
pub(super) fn columns_of(character: char) -> usize {
    character.width().unwrap_or(0)
}

/// The text in lines of at most `width` columns, broken at spaces; a word that is wider is broken where it must be.
pub(super) fn wrapped(text: &Text, width: usize) -> Vec<Text> {
    let mut lines = Lines { done: Vec::new(), line: Vec::new(), used: 0, width: width.max(1) };
    for word in words(text) {
        lines.push(word);
    }
    lines.finish()
}

type Marked = Vec<(Tone, char)>;

/// The words of a text, each with the spaces before it; a line break of the text is a word of its own.
fn words(text: &Text) -> Vec<Marked> {
    let mut words: Vec<Marked> = vec![Vec::new()];
    let characters = text.stretches().flat_map(|(tone, words)| words.chars().map(move |c| (tone, c)));
    let mut in_word = false;
    for (tone, character) in characters {
        let breaks = character == '\n' || (character == ' ' && in_word);
        if breaks {
            words.push(Vec::new());
        }
        in_word = character != ' ' && character != '\n';
        if let Some(word) = words.last_mut() {
            word.push((tone, character));
        }
    }
    words
}

struct Lines {
    done: Vec<Text>,
    line: Marked,
    used: usize,
    width: usize,
}

impl Lines {
    fn push(&mut self, word: Marked) {
        let break_first = word.first().is_some_and(|&(_, c)| c == '\n');
        let word: Marked = word.into_iter().skip(usize::from(break_first)).collect();
        let wide: usize = word.iter().map(|&(_, c)| columns_of(c)).sum();
        let full = self.used > 0 && self.used + wide > self.width;
        if break_first || full {
            self.end_line();
        }
        for (tone, character) in word.into_iter().skip_while(|&(_, c)| full && c == ' ') {
            if self.used + columns_of(character) > self.width {
                self.end_line();
            }
            self.used += columns_of(character);
            self.line.push((tone, character));
        }
    }

    fn end_line(&mut self) {
        self.done.push(joined(std::mem::take(&mut self.line)));
        self.used = 0;
    }

    fn finish(mut self) -> Vec<Text> {
        self.end_line();
        self.done
    }
}

/// Characters of one tone become one stretch again.
fn joined(line: Marked) -> Text {
    line.chunk_by(|a, b| a.0 == b.0).fold(Text::default(), |text, run| {
        text.and(run[0].0, run.iter().map(|&(_, c)| c).collect::<String>())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str, width: usize) -> Vec<String> {
        let broken = wrapped(&text.into(), width);
        broken.iter().map(|line| line.stretches().map(|(_, words)| words).collect()).collect()
    }

    #[test]
    fn text_breaks_at_spaces_and_drops_them_there() {
        assert_eq!(lines("one two three", 7), ["one two", "three"]);
    }

    #[test]
    fn a_word_that_is_too_wide_is_broken() {
        assert_eq!(lines("an abcdefgh", 4), ["an", "abcd", "efgh"]);
    }

    #[test]
    fn leading_spaces_and_line_breaks_of_the_text_stay() {
        assert_eq!(lines("  a\n  b", 10), ["  a", "  b"]);
    }

    #[test]
    fn wide_characters_take_two_columns_and_combining_ones_none() {
        assert_eq!(lines("漢字 漢字", 5), ["漢字", "漢字"]);
        assert_eq!(lines("e\u{301}e\u{301} ab", 5), ["e\u{301}e\u{301} ab"]);
    }

    #[test]
    fn an_empty_text_is_one_empty_line() {
        assert_eq!(lines("", 10), [""]);
    }

    #[test]
    fn a_change_of_tone_within_a_word_does_not_break_it() {
        let text = Text::from("it is ").and(Tone::Below, "below").then(", surely");
        let broken = wrapped(&text, 12);
        assert_eq!(broken[0], Text::from("it is ").and(Tone::Below, "below").then(","));
    }
}
