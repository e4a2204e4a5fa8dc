//! The catalogue of findings: codes and names are stable and never renumbered.
//!
//! F0.. the field work, F1.. files and notation, F2.. `study.yaml`, F3.. tables, F4.. what does not fit together. One
//! file a family; the text of a code here is its page in the handbook and what `explain` prints.

mod field_pumps;
mod field_readings;
mod field_sampling;
mod field_stains;
mod files;
mod fitting;
mod study_file;
mod tables;
mod workbooks;

use super::suggest::nearest;
use serde::Serialize;

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Nothing is computed until it is put right.
    Error,
    /// The figures are given; the finding qualifies them.
    Warning,
    /// Worth knowing; changes no figure.
    Note,
}

impl Severity {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// What a study can decide about the readings that a finding names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// They take part in no figure.
    Reject,
    /// They take part, with the name of the rule beside them.
    Qualify,
    /// They take part as if nothing were amiss.
    Ignore,
}

impl Action {
    /// Every action with its word in the study file.
    pub const WORDS: [(&'static str, Action); 3] =
        [("reject", Action::Reject), ("qualify", Action::Qualify), ("ignore", Action::Ignore)];

    /// The word used in the study file.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, action)| *action == self).map_or("qualify", |(word, _)| word)
    }
}

/// What becomes of the readings that a finding names where the study decides nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Usually {
    /// It is no rule about readings, and nothing can be decided.
    Undecidable,
    /// It is noted; the study can have it ignored.
    Noted,
    /// It qualifies readings; the study can have them rejected, or the finding ignored.
    Qualified,
    /// It stops the assessment; the study can have the readings rejected instead.
    Stopped,
}

impl Usually {
    /// What a study can decide.
    pub fn choices(self) -> &'static [Action] {
        match self {
            Usually::Undecidable => &[],
            Usually::Noted => &[Action::Ignore],
            Usually::Qualified => &[Action::Reject, Action::Qualify, Action::Ignore],
            Usually::Stopped => &[Action::Reject],
        }
    }
}

/// One kind of finding, with the text of its page.
#[derive(Debug, PartialEq, Eq, Serialize)]
pub struct Code {
    /// `F` and three digits.
    pub id: &'static str,
    /// The name used in the handbook, in JSON and in the study's settings.
    pub name: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// What becomes of the readings it names.
    pub usually: Usually,
    /// What it says, in a sentence.
    pub what: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// Lines of a study that provoke it.
    pub example: &'static str,
    /// What to do.
    pub remedy: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
}

/// Codes that belong together.
#[derive(Debug)]
pub struct Family {
    /// What they are about.
    pub title: &'static str,
    /// The codes, in the order of their numbers.
    pub codes: &'static [&'static Code],
}

/// The codes of a family as statics, and the list of them.
macro_rules! family {
    ($title:literal $($constant:ident $id:literal $name:literal $severity:ident $usually:ident
        what $what:literal why $why:literal example $example:literal remedy $remedy:literal source $source:literal;)*
    ) => {
        use super::{Code, Family, Severity, Usually};
        /// The codes by name.
        pub mod codes {
            use super::{Code, Severity, Usually};
            $(#[doc = $what] pub static $constant: Code = Code {
                id: $id,
                name: $name,
                severity: Severity::$severity,
                usually: Usually::$usually,
                what: $what,
                why: $why,
                example: $example,
                remedy: $remedy,
                source: $source,
            };)*
        }
        /// The family.
        pub static FAMILY: Family = Family { title: $title, codes: &[$(&codes::$constant),*] };
    };
}
use family;

/// Every family, in the order of their numbers.
pub static FAMILIES: &[&Family] = &[
    &field_readings::FAMILY,
    &field_pumps::FAMILY,
    &field_sampling::FAMILY,
    &field_stains::FAMILY,
    &files::FAMILY,
    &study_file::FAMILY,
    &tables::FAMILY,
    &workbooks::FAMILY,
    &fitting::FAMILY,
];

/// The codes by name.
pub mod code {
    pub use super::field_pumps::codes::*;
    pub use super::field_readings::codes::*;
    pub use super::field_sampling::codes::*;
    pub use super::field_stains::codes::*;
    pub use super::files::codes::*;
    pub use super::fitting::codes::*;
    pub use super::study_file::codes::*;
    pub use super::tables::codes::*;
    pub use super::workbooks::codes::*;
}

/// Every code, in the order of their numbers.
pub fn catalogue() -> impl Iterator<Item = &'static Code> + Clone {
    FAMILIES.iter().flat_map(|family| family.codes.iter().copied())
}

/// The code of a number or name, in capitals or not; the error says which was probably meant.
pub fn find_code(text: &str) -> Result<&'static Code, String> {
    let is = |code: &&Code| code.id.eq_ignore_ascii_case(text) || code.name.eq_ignore_ascii_case(text);
    let digits = text.trim_start_matches(['F', 'f']);
    let full = digits.parse::<u16>().map(|number| format!("F{number:03}")).unwrap_or_default();
    if let Some(code) = catalogue().find(|code| !is(code) && code.id == full) {
        return Err(format!("Did you mean `{}`?", code.id));
    }
    catalogue().find(is).ok_or_else(|| match nearest(text, catalogue().map(|code| code.name)) {
        near if near.starts_with("did you mean") => near.replacen('d', "D", 1),
        _ => containing(&text.to_lowercase()),
    })
}

fn containing(text: &str) -> String {
    let named = |code: &&Code| text.len() > 2 && code.name.contains(text);
    let names: Vec<String> = catalogue().filter(named).map(|code| format!("`{}`", code.name)).collect();
    match names.is_empty() {
        true => "`fullshift explain` lists them all.".to_owned(),
        false => format!("Did you mean one of {}?", names.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_without_its_zeros_finds_its_code() {
        for text in ["F22", "22", "F0022"] {
            let told = find_code(text).map(|code| code.id);
            assert_eq!(told, Err("Did you mean `F022`?".to_owned()), "{text}");
        }
        assert_eq!(find_code("f022").map(|code| code.id), Ok("F022"));
    }

    #[test]
    fn codes_and_names_are_unique_and_in_order() {
        let ids: Vec<_> = catalogue().map(|code| code.id).collect();
        assert!(ids.is_sorted_by(|a, b| a < b), "{ids:?}");
        let mut names: Vec<_> = catalogue().map(|code| code.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), ids.len());
    }

    #[test]
    fn every_code_has_all_its_texts() {
        for code in catalogue() {
            for text in [code.what, code.why, code.remedy, code.source] {
                assert!(text.ends_with('.') && !text.contains('\n'), "{}: {text}", code.id);
            }
            let lines = || code.example.lines();
            assert!(lines().all(|line| !line.trim().is_empty() && line.chars().count() <= 92), "{}", code.id);
            assert!(lines().count() >= 1, "{} has no example", code.id);
        }
    }

    #[test]
    fn what_a_rule_usually_does_fits_its_severity() {
        for code in catalogue() {
            let wanted = match code.usually {
                Usually::Undecidable => continue,
                Usually::Noted => Severity::Note,
                Usually::Qualified => Severity::Warning,
                Usually::Stopped => Severity::Error,
            };
            assert_eq!(code.severity, wanted, "{}", code.id);
        }
    }

    #[test]
    fn a_code_is_found_by_number_or_name_in_any_letters() {
        assert_eq!(find_code("f012").map(|code| code.name), Ok("leak-check-missing"));
        assert_eq!(find_code("Leak-Check-Missing").map(|code| code.id), Ok("F012"));
        assert_eq!(find_code("leak-chek-missing"), Err("Did you mean `leak-check-missing`?".to_owned()));
        let several = "Did you mean one of `leak-check-missing`, `leak-check-failed`";
        assert!(find_code("leak").is_err_and(|remedy| remedy.starts_with(several)));
        assert_eq!(find_code("F999"), Err("`fullshift explain` lists them all.".to_owned()));
    }
}
