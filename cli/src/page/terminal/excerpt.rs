//! A quoted line with marks under the characters in question.

use super::paint::paint;
use super::wrap::columns_of;
use crate::page::{Excerpt, Text, Tone};

/// Spaces in the place of a tab.
const TAB: &str = "    ";
const LEFT_OUT: &str = "…";

/// The quoted line behind its number, and the marks below it.
pub(super) fn excerpt(excerpt: &Excerpt, width: usize) -> String {
    let number = format!("  {:>5} | ", excerpt.line);
    let shown = Shown::of(excerpt).within(width.saturating_sub(number.len()).max(20));
    let quoted = Text::of(Tone::Quiet, number.as_str()).then(shown.text());
    let mut text = format!("{}\n", paint(&quoted).trim_end());
    if let Some((space, marks)) = shown.marks() {
        let gutter = format!("{:>1$}", "| ", number.len());
        let below = Text::of(Tone::Quiet, gutter).then(" ".repeat(space)).and(Tone::Above, "^".repeat(marks));
        text.push_str(&paint(&below));
        text.push('\n');
    }
    text
}

/// A line as it is shown: each of its characters in the form the screen can hold, and which of them are marked.
struct Shown {
    pieces: Vec<String>,
    marked: Option<(usize, usize)>,
    cut_before: bool,
    cut_behind: bool,
}

impl Shown {
    fn of(excerpt: &Excerpt) -> Self {
        Shown {
            pieces: excerpt.text.chars().map(visible).collect(),
            marked: excerpt.marked,
            cut_before: excerpt.cut,
            cut_behind: false,
        }
    }

    /// The part of the line around the marks that fits into `width` columns.
    fn within(mut self, width: usize) -> Self {
        let (from, count) = self.marked.unwrap_or((0, 0));
        let ellipses = 2 * columns(LEFT_OUT);
        while self.width() + ellipses > width && self.pieces.len() > 1 {
            let (left, _) = self.marked.unwrap_or((0, 0));
            let right = self.pieces.len().saturating_sub(left + count);
            if left > right && from > 0 {
                self.pieces.remove(0);
                self.cut_before = true;
                self.marked = self.marked.map(|(from, count)| (from - 1, count));
            } else {
                self.pieces.pop();
                self.cut_behind = true;
            }
        }
        self
    }

    fn width(&self) -> usize {
        self.pieces.iter().map(|piece| columns(piece)).sum()
    }

    fn text(&self) -> String {
        let ellipsis = |cut| if cut { LEFT_OUT } else { "" };
        format!("{}{}{}", ellipsis(self.cut_before), self.pieces.concat(), ellipsis(self.cut_behind))
    }

    /// How far the marks stand from the left, and how many there are; at least one, even behind the end of the line.
    fn marks(&self) -> Option<(usize, usize)> {
        let (from, count) = self.marked?;
        let before = &self.pieces[..from.min(self.pieces.len())];
        let under = &self.pieces[before.len()..(from + count).min(self.pieces.len())];
        let space = if self.cut_before { columns(LEFT_OUT) } else { 0 };
        let wide = |pieces: &[String]| pieces.iter().map(|piece| columns(piece)).sum::<usize>();
        Some((space + wide(before), wide(under).max(1)))
    }
}

/// A character in a form that moves no cursor and rings no bell.
fn visible(character: char) -> String {
    match character {
        '\t' => TAB.to_owned(),
        c if c.is_control() => '\u{fffd}'.to_string(),
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}' => '\u{fffd}'.to_string(),
        c => c.to_string(),
    }
}

fn columns(piece: &str) -> usize {
    piece.chars().map(columns_of).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, marked: Option<(usize, usize)>, width: usize) -> String {
        let quoted = Excerpt { line: 12, text: text.to_owned(), cut: false, marked };
        anstream::adapter::strip_str(&excerpt(&quoted, width)).to_string()
    }

    #[test]
    fn marks_stand_under_the_characters_in_question() {
        assert_eq!(shown("value: 20", Some((7, 2)), 80), "     12 | value: 20\n        |        ^^\n");
    }

    #[test]
    fn a_tab_before_the_place_moves_the_marks_as_it_moves_the_text() {
        assert_eq!(shown("a\tbc", Some((2, 2)), 80), "     12 | a    bc\n        |      ^^\n");
    }

    #[test]
    fn wide_characters_are_marked_over_both_their_columns() {
        assert_eq!(shown("x: 漢字!", Some((3, 2)), 80), "     12 | x: 漢字!\n        |    ^^^^\n");
    }

    #[test]
    fn combining_characters_take_no_column() {
        assert_eq!(shown("e\u{301}: 5", Some((4, 1)), 80), "     12 | e\u{301}: 5\n        |    ^\n");
    }

    #[test]
    fn a_place_behind_the_end_of_the_line_gets_one_mark() {
        assert_eq!(shown("ab", Some((2, 0)), 80), "     12 | ab\n        |   ^\n");
        assert_eq!(shown("ab", Some((9, 4)), 80), "     12 | ab\n        |   ^\n");
    }

    #[test]
    fn a_whole_line_has_no_marks() {
        assert_eq!(shown("W1;a", None, 80), "     12 | W1;a\n");
    }

    #[test]
    fn an_excerpt_that_was_cut_says_so_and_keeps_its_marks_in_place() {
        let quoted = Excerpt { line: 3, text: "bcd".to_owned(), cut: true, marked: Some((1, 1)) };
        let text = anstream::adapter::strip_str(&excerpt(&quoted, 80)).to_string();
        assert_eq!(text, "      3 | …bcd\n        |   ^\n");
    }

    #[test]
    fn a_line_wider_than_the_page_is_cut_around_its_marks() {
        let text = format!("{}HERE{}", "a".repeat(60), "b".repeat(60));
        let shown = shown(&text, Some((60, 4)), 50);
        assert!(shown.lines().all(|line| line.chars().count() <= 50), "{shown}");
        let rows: Vec<Vec<char>> = shown.lines().map(|line| line.chars().collect()).collect();
        let under: String =
            rows[1].iter().zip(&rows[0]).filter(|(mark, _)| **mark == '^').map(|(_, c)| *c).collect();
        assert_eq!(under, "HERE", "{shown}");
    }

    #[test]
    fn control_characters_do_not_reach_the_terminal() {
        assert!(!shown("a\u{1b}[31mb\u{7}", None, 80).contains(['\u{1b}', '\u{7}']));
    }
}
