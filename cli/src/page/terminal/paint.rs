//! From tone to colour.

use crate::page::{Text, Tone};
use anstyle::{AnsiColor, Style};
use std::fmt::Write;

/// A text with its escape sequences.
pub(super) fn paint(text: &Text) -> String {
    text.stretches().fold(String::new(), |mut painted, (tone, words)| {
        let style = style(tone);
        let _ = write!(painted, "{style}{words}{style:#}");
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
        Tone::Plain => Style::new(),
        Tone::Strong => Style::new().bold(),
        Tone::Quiet => Style::new().dimmed(),
        Tone::Below => AnsiColor::Cyan.on_default().bold(),
        Tone::Above => AnsiColor::Red.on_default().bold(),
        Tone::Open => AnsiColor::Yellow.on_default().bold(),
    }
}
