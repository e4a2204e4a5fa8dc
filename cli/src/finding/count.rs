//! How many findings there are, in words.

use crate::page::Tone;
use fullshift_engine::diagnose::{Report, Severity};

const SEVERITIES: [(Severity, &str, Tone); 3] = [
    (Severity::Error, "error", Tone::Above),
    (Severity::Warning, "warning", Tone::Open),
    (Severity::Note, "note", Tone::Strong),
];

/// A severity's word and tone.
pub(crate) fn severity(of: Severity) -> (&'static str, Tone) {
    SEVERITIES.iter().find(|(s, ..)| *s == of).map_or(("note", Tone::Strong), |&(_, word, tone)| (word, tone))
}

/// The findings counted, as `2 errors and 1 note`; nothing where there are none.
pub(crate) fn count(findings: &[Report]) -> String {
    let counted: Vec<String> = SEVERITIES
        .iter()
        .filter_map(|&(of, word, _)| match findings.iter().filter(|f| f.severity == of).count() {
            0 => None,
            1 => Some(format!("1 {word}")),
            n => Some(format!("{n} {word}s")),
        })
        .collect();
    match counted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::samples::finding;

    #[test]
    fn findings_are_counted_by_severity() {
        let of = |severity| finding(severity, 1, 1, "");
        let (error, warning, note) = (Severity::Error, Severity::Warning, Severity::Note);
        assert_eq!(count(&[]), "");
        assert_eq!(count(&[of(error)]), "1 error");
        assert_eq!(count(&[of(error), of(error), of(note)]), "2 errors and 1 note");
        assert_eq!(count(&[of(error), of(warning), of(warning), of(note)]), "1 error, 2 warnings and 1 note");
    }
}
