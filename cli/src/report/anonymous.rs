//! A copy of an assessment in which workers are named by letters, the same letter everywhere.

use super::words;
use fullshift_engine::model::Assessment;

/// The assessment with letters for names, in the order in which the study declares them.
pub(crate) fn without_names(mut found: Assessment) -> Assessment {
    let names = Letters::of(&found);
    words::each(&mut found, &mut |_, text| names.put(text));
    found
}

/// Names, longest first, each with its letter.
struct Letters(Vec<(String, String)>);

impl Letters {
    fn of(found: &Assessment) -> Self {
        let declared = found.study.groups.iter().flat_map(|group| &group.workers);
        let seen =
            found.shifts.iter().map(|s| &s.worker).chain(found.readings.iter().flat_map(|r| &r.worker));
        let mut names: Vec<&String> = Vec::new();
        for name in declared.chain(seen) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let lettered = names.iter().enumerate().map(|(at, name)| ((*name).clone(), letters(at)));
        let mut pairs: Vec<(String, String)> = lettered.collect();
        pairs.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
        Letters(pairs)
    }

    /// Puts letters for the names in a text, in one pass, so that a letter is never taken for a name.
    fn put(&self, text: &mut String) {
        let mut written = String::with_capacity(text.len());
        let mut at = 0;
        while let Some(character) = text[at..].chars().next() {
            match self.0.iter().find(|(name, _)| stands_at(text, at, name)) {
                Some((name, letter)) => {
                    written.push_str(letter);
                    at += name.len();
                }
                None => {
                    written.push(character);
                    at += character.len_utf8();
                }
            }
        }
        *text = written;
    }
}

/// A, B, ..., Z, AA, AB, ...
fn letters(number: usize) -> String {
    let last = char::from(b'A' + (number % 26) as u8);
    match number / 26 {
        0 => last.to_string(),
        more => format!("{}{last}", letters(more - 1)),
    }
}

/// Whether a text holds a name as a word of its own.
pub(super) fn mentions(text: &str, name: &str) -> bool {
    text.char_indices().any(|(at, _)| stands_at(text, at, name))
}

fn stands_at(text: &str, at: usize, name: &str) -> bool {
    let part_of_a_word = |character: Option<char>| character.is_some_and(char::is_alphanumeric);
    !name.is_empty()
        && text[at..].starts_with(name)
        && !part_of_a_word(text[..at].chars().next_back())
        && !part_of_a_word(text[at + name.len()..].chars().next())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52, 701, 702].map(letters), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }

    #[test]
    fn a_name_is_replaced_as_a_whole_word_only_and_in_one_pass() {
        let names =
            Letters(vec![("W12".into(), "C".into()), ("W1".into(), "A".into()), ("A".into(), "B".into())]);
        let mut text = "W1, W12/2027-03-08, A, W123, \u{e4}W1, W1's".to_owned();
        names.put(&mut text);
        assert_eq!(text, "A, C/2027-03-08, B, W123, \u{e4}W1, A's");
    }
}
