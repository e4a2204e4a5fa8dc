//! From tone to colour.

use crate::page::{Text, Tone};
use anstyle::{AnsiColor, Style};
use std::fmt::Write;

/// A text with its escape sequences; those that came in with the user's own files are made harmless.
pub(super) fn paint(text: &Text) -> String {
    text.stretches().fold(String::new(), |mut painted, (tone, words)| {
        let style = style(tone);
        let _ = write!(painted, "{style}{}{style:#}", words.replace(char::is_control, "\u{fffd}"));
        painted
    })
}

/// The same text to be seen first; what has a tone of its own keeps it.
pub(super) fn strong(text: &Text) -> Text {
    text.stretches().fold(Text::default(), |strong, (tone, words)| {
        strong.and(if tone == Tone::Plain { Tone::Strong } else { tone }, words)
    })
}

fn style(tone: Tone) -> Style {
    match tone {
        Tone::Plain | Tone::Typed => Style::new(),
        Tone::Stress => Style::new().italic(),
        Tone::Strong => Style::new().bold(),
        Tone::Quiet => Style::new().dimmed(),
        Tone::Below => AnsiColor::Cyan.on_default().bold(),
        Tone::Above => AnsiColor::Red.on_default().bold(),
        Tone::Open => AnsiColor::Yellow.on_default().bold(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escape_sequences_of_the_input_do_not_reach_the_terminal() {
        assert_eq!(paint(&"a\u{1b}[2Jb".into()), "a\u{fffd}[2Jb");
    }
}
