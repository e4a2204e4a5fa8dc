//! Text with a tone: what a stretch of it means, not how it looks; and where it leads.

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
    /// Stressed in the user's own words.
    Stress,
    /// Letters as they are typed.
    Typed,
    /// Good news: below a limit.
    Below,
    /// Bad news: above a limit, an error.
    Above,
    /// Open: undecided, a warning.
    Open,
}

/// Where a stretch of text leads.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Link {
    /// To a table or drawing by its key; its label becomes the words.
    Caption(String),
    /// To the working of the figure at this address.
    Working(String),
    /// To a place on the page.
    Place(String),
    /// To a page of the web.
    Web(String),
}

/// A stretch of text of one tone.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Stretch {
    /// What it means.
    pub(crate) tone: Tone,
    /// The words.
    pub(crate) words: String,
    /// Where it leads.
    pub(crate) link: Option<Link>,
    /// The name of the place that it marks, to which others lead.
    pub(crate) place: Option<String>,
}

/// Text in stretches of one tone each.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Text(Vec<Stretch>);

impl Text {
    /// Text of one tone.
    pub(crate) fn of(tone: Tone, words: impl Into<String>) -> Self {
        Text::default().and(tone, words)
    }

    /// Text that leads somewhere.
    pub(crate) fn linked(words: impl Into<String>, link: Link) -> Self {
        Text(vec![Stretch { words: words.into(), link: Some(link), ..Stretch::default() }])
    }

    /// The label of a table or drawing, as `Table 3`.
    pub(crate) fn caption(key: impl Into<String>) -> Self {
        Text::linked("", Link::Caption(key.into()))
    }

    /// A stretch with everything that belongs to it.
    pub(crate) fn stretch(stretch: Stretch) -> Self {
        Text(vec![stretch])
    }

    /// The same with more text behind it.
    pub(crate) fn and(mut self, tone: Tone, words: impl Into<String>) -> Self {
        let words = words.into();
        if !words.is_empty() {
            self.0.push(Stretch { tone, words, ..Stretch::default() });
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

    /// Its stretches as tone and words.
    pub(crate) fn stretches(&self) -> impl Iterator<Item = (Tone, &str)> {
        self.0.iter().map(|stretch| (stretch.tone, stretch.words.as_str()))
    }

    /// Its stretches with links and places.
    pub(crate) fn whole(&self) -> &[Stretch] {
        &self.0
    }

    /// The same, to be changed.
    pub(crate) fn whole_mut(&mut self) -> &mut Vec<Stretch> {
        &mut self.0
    }

    /// The words alone.
    pub(crate) fn words(&self) -> String {
        self.0.iter().map(|stretch| stretch.words.as_str()).collect()
    }
}

/// A text without characters that change what stands around it: control characters, and those that turn the direction of
/// writing for whatever follows. A line break stays.
pub(crate) fn harmless(words: &str) -> String {
    let harms = |c: char| {
        (c.is_control() && c != '\n') || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    words.replace(harms, "\u{fffd}")
}

/// Whether a text holds letters that are written from right to left (Hebrew to Arabic Extended, and their presentation forms).
pub(crate) fn is_right_to_left(words: &str) -> bool {
    words
        .chars()
        .any(|c| matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}'))
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

/// Words in which what stands between backticks is typed as it stands.
pub(crate) fn with_typed(words: &str) -> Text {
    let parts: Vec<&str> = words.split('`').collect();
    if parts.len().is_multiple_of(2) {
        return words.into();
    }
    parts.iter().enumerate().fold(Text::default(), |text, (at, part)| match (at % 2, part.is_empty()) {
        (_, true) => text,
        (0, _) => text.then(*part),
        _ => text.and(Tone::Typed, *part),
    })
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
