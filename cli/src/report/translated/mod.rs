//! A copy of an assessment in which the engine's sentences are in the language of the report.

use super::words::{self, Whose};
use crate::language::Language;
use fullshift_engine::model::Assessment;
use std::borrow::Cow;
use std::collections::{BTreeSet, HashMap, HashSet};

/// An assessment as a language tells it.
pub(super) struct Translated<'a> {
    pub(super) assessment: Cow<'a, Assessment>,
    /// Sentences that the language lacks; they stay as the engine worded them.
    pub(super) lacking: BTreeSet<String>,
}

/// The assessment in that language. What the user wrote stays.
pub(super) fn in_language<'a>(found: &'a Assessment, language: &Language) -> Translated<'a> {
    let mut lacking = BTreeSet::new();
    if language.is_the_engines() {
        return Translated { assessment: Cow::Borrowed(found), lacking };
    }
    let mut found = found.clone();
    let typed = Typed::in_study(&mut found);
    let mut known: HashMap<String, String> = HashMap::new();
    words::each(&mut found, &mut |whose, text| {
        if whose == Whose::Theirs || typed.is_name(text) {
            return;
        }
        let english = std::mem::take(text);
        *text = match known.get(&english) {
            Some(told) => told.clone(),
            None => {
                let told = language.known(&english).unwrap_or_else(|| {
                    lacking.extend(typed.is_prose(&english).then(|| english.clone()));
                    english.clone()
                });
                known.insert(english, told.clone());
                told
            }
        };
    });
    Translated { assessment: Cow::Owned(found), lacking }
}

/// Everything that the user called by a name.
struct Typed(HashSet<String>);

impl Typed {
    fn in_study(found: &mut Assessment) -> Typed {
        let mut typed = HashSet::new();
        words::each(found, &mut |whose, text| {
            if whose == Whose::Theirs {
                typed.insert(text.clone());
            }
        });
        Typed(typed)
    }

    /// Whether a text is a name, or an address, which begins with one.
    fn is_name(&self, text: &str) -> bool {
        let address = || text.match_indices('/').any(|(at, _)| self.0.contains(&text[..at]));
        self.0.contains(text) || address()
    }

    /// Whether a text has a word in it, rather than numbers and symbols alone.
    fn is_prose(&self, text: &str) -> bool {
        let words = text.split(|c: char| !c.is_alphabetic());
        words.filter(|word| word.chars().filter(|c| c.is_lowercase()).count() > 2).any(|word| word != "ppm")
    }
}

#[cfg(test)]
mod tests;
