//! The engine's sentences in another language: pairs of patterns, the English one as the engine words it.
//!
//! A gap takes what stands there: `{name}` anything, which stays as it is (what the user called something), `{#n}` a
//! number, `{@day}` a date, a time of day or both, `{%unit}` a unit, `{=why}` another sentence or phrase of the pairs.
//! Of several patterns that fit, the one with the most words of its own, in it and in its gaps, is meant; of equals the
//! one that begins with more of them.

use super::{Language, next_gap};
use std::collections::HashMap;

/// English and the other language.
pub(crate) type Pair = (&'static str, &'static str);

/// Places at which the words behind a gap are looked for.
const TRIED: usize = 12;

/// Units as the engine writes them.
const UNITS: [&str; 21] = [
    "ppm", "ppb", "mg/m3", "ug/m3", "µg/m3", "min", "h", "s", "C", "K", "F", "kPa", "hPa", "Pa", "mbar",
    "mmHg", "%", "%RH", "mL", "L/mol", "g/mol",
];

/// The pairs of a language.
#[derive(Debug)]
pub(crate) struct Phrases {
    fixed: HashMap<&'static str, &'static str>,
    patterns: Vec<Pattern>,
}

#[derive(Debug)]
struct Pattern {
    /// What stands before the first gap.
    start: &'static str,
    /// Each gap with the words behind it.
    gaps: Vec<(Gap, &'static str)>,
    told: &'static str,
}

/// A gap by its sign and name.
#[derive(Debug, Clone, Copy)]
struct Gap {
    takes: Takes,
    name: &'static str,
}

#[derive(Debug, Clone, Copy)]
enum Takes {
    Anything,
    Number,
    Moment,
    Unit,
    Phrase,
}

/// A text in the other language, and how many characters of it were known words.
type Told = (usize, String);

impl Phrases {
    pub(super) fn of(pairs: &[&[Pair]]) -> Phrases {
        let (mut fixed, mut patterns) = (HashMap::new(), Vec::new());
        for &(english, told) in pairs.iter().copied().flatten() {
            match Pattern::of(english, told) {
                pattern if pattern.gaps.is_empty() => drop(fixed.insert(english, told)),
                pattern => patterns.push(pattern),
            }
        }
        Phrases { fixed, patterns }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.fixed.is_empty() && self.patterns.is_empty()
    }

    /// An English text of the engine in this language, where the pairs have it.
    pub(super) fn told(&self, english: &str, language: &Language) -> Option<String> {
        let mut search = Search { phrases: self, language, known: HashMap::new() };
        search.phrase(english).map(|(_, told)| told)
    }
}

impl Pattern {
    fn of(english: &'static str, told: &'static str) -> Pattern {
        let (start, mut rest) = english.find('{').map_or((english, ""), |at| english.split_at(at));
        let mut gaps = Vec::new();
        while let Some((name, behind)) = rest.strip_prefix('{').and_then(|rest| rest.split_once('}')) {
            let (words, next) = behind.find('{').map_or((behind, ""), |at| behind.split_at(at));
            gaps.push((Gap::of(name), words));
            rest = next;
        }
        Pattern { start, gaps, told }
    }
}

impl Gap {
    fn of(name: &'static str) -> Gap {
        let takes = match name.as_bytes().first() {
            Some(b'#') => Takes::Number,
            Some(b'@') => Takes::Moment,
            Some(b'%') => Takes::Unit,
            Some(b'=') => Takes::Phrase,
            _ => Takes::Anything,
        };
        Gap { takes, name }
    }
}

/// A search for one text; what was found for its parts is kept.
struct Search<'a> {
    phrases: &'a Phrases,
    language: &'a Language,
    known: HashMap<&'a str, Option<Told>>,
}

impl<'a> Search<'a> {
    fn phrase(&mut self, text: &'a str) -> Option<Told> {
        if let Some(told) = self.phrases.fixed.get(text) {
            return Some((text.len(), (*told).to_owned()));
        }
        if let Some(known) = self.known.get(text) {
            return known.clone();
        }
        let fitting =
            self.phrases.patterns.iter().filter_map(|pattern| Some((pattern, self.by(pattern, text)?)));
        let best = fitting.max_by_key(|(pattern, (words, _))| (*words, pattern.start.len()));
        let best = best.map(|(_, told)| told);
        self.known.insert(text, best.clone());
        best
    }

    fn by(&mut self, pattern: &'a Pattern, text: &'a str) -> Option<Told> {
        let rest = text.strip_prefix(pattern.start)?;
        let filled = self.fill(&pattern.gaps, rest)?;
        let words = pattern.start.len() + filled.iter().map(|(_, (words, _))| words).sum::<usize>();
        Some((words, put_together(pattern.told, &filled)))
    }

    /// The first way to fill the gaps so that the text ends where the pattern does.
    fn fill(&mut self, gaps: &[(Gap, &'a str)], text: &'a str) -> Option<Vec<(Gap, Told)>> {
        let [(gap, behind), others @ ..] = gaps else { return text.is_empty().then(Vec::new) };
        let ends: Vec<usize> = match (*behind, others) {
            ("", []) => vec![text.len()],
            (behind, []) => text.strip_suffix(behind).map(str::len).into_iter().collect(),
            (behind, _) => text.match_indices(behind).map(|(at, _)| at).take(TRIED).collect(),
        };
        ends.into_iter().filter(|end| *end > 0).find_map(|end| {
            let (words, told) = self.taken(*gap, &text[..end])?;
            let mut filled = self.fill(others, &text[end + behind.len()..])?;
            filled.insert(0, (*gap, (words + behind.len(), told)));
            Some(filled)
        })
    }

    fn taken(&mut self, gap: Gap, text: &'a str) -> Option<Told> {
        match gap.takes {
            Takes::Anything => Some((0, text.to_owned())),
            Takes::Number => is_number(text).then(|| (text.len(), self.language.notation.digits(text))),
            Takes::Moment => is_moment(text).then(|| (text.len(), self.language.moment(text))),
            Takes::Unit => UNITS.contains(&text).then(|| (text.len(), text.to_owned())),
            Takes::Phrase => self.phrase(text),
        }
    }
}

/// The words of the other language with the gaps filled.
fn put_together(told: &str, filled: &[(Gap, Told)]) -> String {
    let (mut text, mut rest) = (String::new(), told);
    while let Some((before, name, after)) = next_gap(rest) {
        text += before;
        filled.iter().filter(|(gap, _)| gap.name == name).for_each(|(_, (_, told))| text += told);
        rest = after;
    }
    text + rest
}

/// Whether a text is a number as the engine writes it, as `0.35`, `-2` or `1.9e8`.
fn is_number(text: &str) -> bool {
    let digits = |c: char| c.is_ascii_digit();
    let text = text.strip_prefix(['<', '>']).unwrap_or(text);
    text.starts_with(|c| digits(c) || c == '-') && text.ends_with(digits) && text.parse::<f64>().is_ok()
}

/// Whether a text is `2027-03-09`, `06:00`, or both with a blank between.
fn is_moment(text: &str) -> bool {
    let form: String = text.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).collect();
    // In an hour that the clock shows twice the offset from UTC stands behind the time.
    let form = form.strip_suffix(" +00:00").or(form.strip_suffix(" -00:00")).unwrap_or(&form);
    ["0000-00-00", "00:00", "0000-00-00 00:00"].contains(&form)
}

#[cfg(test)]
mod tests {
    use super::super::{de, gaps};
    use super::*;

    fn told(pairs: &'static [Pair], english: &str) -> Option<String> {
        Phrases::of(&[pairs]).told(english, &de::GERMAN)
    }

    const PAIRS: &[Pair] = &[
        ("{task} has {#n} readings", "{task} hat {#n} Messungen"),
        ("{=said} (reading {reading})", "{=said} (Messung {reading})"),
        ("drawn on {@day}", "gezogen am {@day}"),
        ("{#n} {%unit}", "{#n} {%unit}"),
        ("{=amount} x {#n} min", "{=amount} x {#n} min"),
        ("none", "keine"),
    ];

    #[test]
    fn names_stay_and_numbers_and_dates_are_written_as_the_language_does() {
        assert_eq!(told(PAIRS, "bay 1.5 has 2.5 readings").unwrap(), "bay 1.5 hat 2,5 Messungen");
        assert_eq!(told(PAIRS, "drawn on 2027-03-09 06:00").unwrap(), "gezogen am 09.03.2027 06:00");
        let twice = "drawn on 2027-10-31 02:30 +01:00";
        assert_eq!(told(PAIRS, twice).unwrap(), "gezogen am 31.10.2027 02:30 +01:00");
        assert_eq!(told(PAIRS, "1.5 ppm x 240 min").unwrap(), "1,5 ppm x 240 min");
    }

    #[test]
    fn a_sentence_within_a_sentence_is_told_too_and_an_unknown_one_is_no_match() {
        let english = "turning has 2 readings (reading R1)";
        assert_eq!(told(PAIRS, english).unwrap(), "turning hat 2 Messungen (Messung R1)");
        assert_eq!(told(PAIRS, "something else (reading R1)"), None);
        assert_eq!(told(PAIRS, "12 windows"), None);
    }

    #[test]
    fn a_name_with_braces_fills_no_other_gap() {
        assert_eq!(told(PAIRS, "{#n} has 2 readings").unwrap(), "{#n} hat 2 Messungen");
    }

    #[test]
    fn a_long_hostile_name_is_no_burden() {
        let name = "; (reading ".repeat(2000);
        assert_eq!(told(PAIRS, &name), None);
        assert!(de::GERMAN.known(&name).is_none());
    }

    #[test]
    fn both_sides_of_a_pair_have_the_same_gaps_and_no_english_stands_twice() {
        let mut seen = std::collections::HashSet::new();
        for (english, told) in de::pairs() {
            assert_eq!(gaps(english), gaps(told), "{english}");
            assert!(seen.insert(english), "{english}");
        }
    }

    /// A sentence that the engine no longer says has no place here, and one that it words anew is missed by nobody else.
    #[test]
    fn the_engine_has_the_words_of_every_pair() {
        let mut source = String::new();
        for folder in ["../engine/src", "../engine/stats/src"] {
            read_all(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut source);
        }
        let mut joined = String::new();
        for line in source.lines() {
            match line.trim_start_matches(' ').strip_suffix('\\') {
                Some(begun) => joined += begun,
                None => joined.extend([line.trim_start(), "\n"]),
            }
        }
        for (english, _) in de::pairs() {
            let pattern = Pattern::of(english, "");
            let words = pattern.gaps.iter().map(|(_, words)| *words).chain([pattern.start]);
            for words in words.map(|words| words.trim_matches([' ', ',', ';', ':', '(', ')', '`'])) {
                // The engine puts this together from a range and its open end.
                let said = words.strip_prefix("to ").filter(|end| *end == "no upper end").unwrap_or(words);
                let said = said.replace('"', "\\\"");
                assert!(joined.contains(&said), "the engine does not say `{words}`: {english}");
            }
        }
    }

    fn read_all(folder: &std::path::Path, source: &mut String) {
        for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            match entry.is_dir() {
                true => read_all(&entry, source),
                false => *source += &std::fs::read_to_string(entry).unwrap(),
            }
        }
    }
}
