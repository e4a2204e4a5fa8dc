//! The words of the written report, one file a language; a sentence that a language lacks does not compile.

mod de;
mod en;
mod phrases;
mod sentences;

use crate::page::number::Notation;
use crate::page::{Labels, Text, Tone};
use fullshift_engine::model::{LimitKind, ReportLanguage};
use phrases::Phrases;
pub(crate) use sentences::Sentences;
use std::sync::LazyLock;

/// A language: its words, its numbers, its dates.
#[derive(Debug)]
pub(crate) struct Language {
    /// Its code, as `en`.
    pub(crate) code: &'static str,
    /// How it writes numbers.
    pub(crate) notation: Notation,
    /// How it labels tables and drawings.
    pub(crate) labels: Labels,
    /// How it writes a date, as `{day} {month} {year}`.
    date: &'static str,
    /// The same in a column, where months are numbers.
    short_date: &'static str,
    /// The names of the months.
    months: [&'static str; 12],
    /// The word before the last of a list.
    and: &'static str,
    /// The engine's sentences, which are English, in this language.
    phrases: &'static LazyLock<Phrases>,
    /// Names of the rules, as the report speaks of them.
    pub(crate) rules: &'static [(&'static str, &'static str)],
    /// Names of the figures of a profile.
    pub(crate) figures: &'static [(&'static str, &'static str)],
    /// Its sentences.
    pub(crate) say: Sentences,
}

/// The language of that choice.
pub(crate) fn of(choice: ReportLanguage) -> &'static Language {
    match choice {
        ReportLanguage::English => &en::ENGLISH,
        ReportLanguage::German => &de::GERMAN,
    }
}

impl Language {
    /// A date and time as the tables have it, `2027-03-09 06:00`, for running text without the time.
    pub(crate) fn date(&self, stamp: &str) -> String {
        self.dated(stamp, self.date)
    }

    /// The same for a column.
    pub(crate) fn short_date(&self, stamp: &str) -> String {
        self.dated(stamp, self.short_date)
    }

    /// The same with the time behind it.
    pub(crate) fn moment(&self, stamp: &str) -> String {
        match stamp.split_once(' ') {
            Some((date, time)) => format!("{} {time}", self.short_date(date)),
            None => self.short_date(stamp),
        }
    }

    fn dated(&self, stamp: &str, form: &str) -> String {
        let date = stamp.split(' ').next().unwrap_or_default();
        let parts: Vec<&str> = date.split('-').collect();
        let [year, month, day] = parts[..] else { return stamp.to_owned() };
        let name = month.parse::<usize>().ok().and_then(|m| self.months.get(m.checked_sub(1)?));
        form.replace("{day}", day.trim_start_matches('0'))
            .replace("{dd}", day)
            .replace("{mm}", month)
            .replace("{month}", name.unwrap_or(&month))
            .replace("{year}", year)
    }

    /// Words as a list.
    pub(crate) fn list(&self, words: &[String]) -> String {
        match words {
            [first @ .., last] if !first.is_empty() => format!("{} {} {last}", first.join(", "), self.and),
            _ => words.concat(),
        }
    }

    /// The sentence for one or for several, with `{n}` filled in.
    pub(crate) fn counted(&self, n: usize, (one, more): (&str, &str)) -> String {
        if n == 1 { one } else { more }.replace("{n}", &n.to_string())
    }

    /// A sentence or phrase of the engine, where this language has it; English has them all as they are.
    pub(crate) fn known(&self, english: &str) -> Option<String> {
        self.phrases.told(english, self)
    }

    /// Whether it is the language in which the engine speaks.
    pub(crate) fn is_the_engines(&self) -> bool {
        self.phrases.is_empty()
    }

    /// The same, and as the engine worded it where this language lacks it.
    pub(crate) fn told(&self, english: &str) -> String {
        self.known(english).unwrap_or_else(|| english.to_owned())
    }

    /// A kind of limit.
    pub(crate) fn kind(&self, kind: LimitKind) -> &'static str {
        match kind {
            LimitKind::Twa => self.say.kind_twa,
            LimitKind::ShortTerm => self.say.kind_short_term,
            LimitKind::Ceiling => self.say.kind_ceiling,
            LimitKind::Mixture => self.say.kind_mixture,
        }
    }

    /// The name of a rule.
    pub(crate) fn rule(&self, name: &str) -> String {
        named(self.rules, name)
    }

    /// The name of a figure.
    pub(crate) fn figure(&self, name: &str) -> String {
        named(self.figures, name)
    }
}

fn named(names: &[(&str, &str)], name: &str) -> String {
    names.iter().find(|(known, _)| *known == name).map_or(name, |(_, word)| word).to_owned()
}

/// A sentence with its gaps filled by texts, as `The TWA is {figure}.`
pub(crate) fn filled(sentence: &str, gaps: &[(&str, Text)]) -> Text {
    let mut text = Text::default();
    let mut rest = sentence;
    while let Some((before, name, after)) = next_gap(rest) {
        text = text.then(before);
        text = match gaps.iter().find(|(known, _)| *known == name) {
            Some((_, gap)) => text.append(gap.clone()),
            None => text.and(Tone::Plain, format!("{{{name}}}")),
        };
        rest = after;
    }
    text.then(rest)
}

fn next_gap(sentence: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = sentence.split_once('{')?;
    let (name, after) = rest.split_once('}')?;
    Some((before, name, after))
}

/// The gaps of a sentence, each once.
#[cfg(test)]
fn gaps(sentence: &str) -> Vec<&str> {
    let mut gaps = Vec::new();
    let mut rest = sentence;
    while let Some((_, name, after)) = next_gap(rest) {
        gaps.push(name);
        rest = after;
    }
    gaps.sort_unstable();
    gaps.dedup();
    gaps
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sentence_has_the_same_gaps_in_every_language() {
        for ((name, english), (_, german)) in en::ENGLISH.say.all().iter().zip(de::GERMAN.say.all()) {
            assert_eq!(gaps(english), gaps(german), "{name}");
            assert!(!english.is_empty() && !german.is_empty(), "{name}");
        }
    }

    #[test]
    fn dates_stand_as_each_language_writes_them() {
        assert_eq!(en::ENGLISH.date("2027-03-09 06:00"), "9 March 2027");
        assert_eq!(de::GERMAN.date("2027-03-09 06:00"), "9. März 2027");
        assert_eq!(de::GERMAN.moment("2027-03-09 06:00"), "09.03.2027 06:00");
        assert_eq!(en::ENGLISH.moment("2027-03-09 06:00"), "2027-03-09 06:00");
        assert_eq!(en::ENGLISH.date("no date"), "no date");
    }

    #[test]
    fn a_gap_is_filled_with_its_tone_and_an_unknown_one_stays_visible() {
        let text = filled("It is {verdict}, {odd}.", &[("verdict", Text::of(Tone::Below, "below"))]);
        assert_eq!(text.words(), "It is below, {odd}.");
        assert!(text.stretches().any(|stretch| stretch == (Tone::Below, "below")));
    }
}
