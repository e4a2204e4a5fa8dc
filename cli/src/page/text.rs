//! Text with a tone: what a stretch of it means, not how it looks.

/// What a stretch of text means to the reader. No writer may rest on colour alone: the words say it too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Tone {
    /// Nothing in particular.
    #[default]
    Plain,
    /// To be seen first.
    Strong,
    /// Of second rank.
    Quiet,
    /// Good news: below a limit.
    Below,
    /// Bad news: above a limit, an error.
    Above,
    /// Open: undecided, a warning.
    Open,
}

/// Text in stretches of one tone each.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Text(Vec<(Tone, String)>);

impl Text {
    /// Text of one tone.
    pub(crate) fn of(tone: Tone, words: impl Into<String>) -> Self {
        Text::default().and(tone, words)
    }

    /// The same with more text behind it.
    pub(crate) fn and(mut self, tone: Tone, words: impl Into<String>) -> Self {
        let words = words.into();
        if !words.is_empty() {
            self.0.push((tone, words));
        }
        self
    }

    /// The same with more plain text behind it.
    pub(crate) fn then(self, words: impl Into<String>) -> Self {
        self.and(Tone::Plain, words)
    }

    /// The same with another text behind it.
    pub(crate) fn append(mut self, other: Text) -> Self {
        self.0.extend(other.0);
        self
    }

    /// Whether there is nothing.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Its stretches.
    pub(crate) fn stretches(&self) -> impl Iterator<Item = (Tone, &str)> {
        self.0.iter().map(|(tone, words)| (*tone, words.as_str()))
    }
}

/// Characters of a quoted text that a page shows at most.
const LONGEST_QUOTE: usize = 300;

/// Text from the user's files, cut where it is longer than anybody reads.
pub(crate) fn short(words: &str) -> String {
    match words.char_indices().nth(LONGEST_QUOTE) {
        Some((end, _)) => format!("{}…", &words[..end]),
        None => words.to_owned(),
    }
}

impl From<&str> for Text {
    fn from(words: &str) -> Self {
        Text::of(Tone::Plain, words)
    }
}

impl From<String> for Text {
    fn from(words: String) -> Self {
        Text::of(Tone::Plain, words)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_that_nobody_would_read_is_cut() {
        assert_eq!(short("as it is"), "as it is");
        assert_eq!(short(&"é".repeat(1000)).chars().count(), LONGEST_QUOTE + 1);
    }
}
