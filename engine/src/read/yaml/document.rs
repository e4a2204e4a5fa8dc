//! One YAML file: its values, and the place of each.

use super::complaint;
use super::node::Node;
use super::spans::{Broken, Spans};
use crate::diagnose::{FileId, Findings, Span, code};
use crate::read::Sources;
use serde_yaml::Value;

/// A YAML file that could be parsed.
pub struct Document {
    value: Value,
    pub(super) spans: Spans,
    pub(super) file: FileId,
}

impl Document {
    /// Parses a file; `None` with findings where it is no YAML.
    pub fn read(file: FileId, sources: &Sources, findings: &Findings) -> Option<Document> {
        let text = sources.text(file, findings)?;
        let spans = match Spans::of(text, file) {
            Ok(spans) => spans,
            Err(broken) => {
                report_broken(broken, findings);
                return None;
            }
        };
        for (path, first, second) in &spans.duplicates {
            let key = path.rsplit('\u{1}').next().unwrap_or(path);
            findings.report_at(
                &code::DUPLICATE_KEY,
                vec![*second, *first],
                format!("`{key}` stands twice in the same place"),
                "keep one of the two, or give the second its own name",
            );
        }
        if !spans.duplicates.is_empty() {
            return None;
        }
        match serde_yaml::from_str(text) {
            Ok(value) => Some(Document { value, spans, file }),
            Err(error) => {
                report_value_error(&error, file, findings);
                None
            }
        }
    }

    /// A document put together of its parts.
    pub(super) fn of(value: Value, spans: Spans, file: FileId) -> Document {
        Document { value, spans, file }
    }

    /// The top of the document.
    pub fn top(&self) -> Node<'_> {
        Node { document: self, value: &self.value, path: String::new() }
    }
}

/// The values of a text, without their places.
pub fn values(text: &str) -> Option<serde_json::Value> {
    serde_yaml::from_str(text).ok()
}

fn report_broken(broken: Broken, findings: &Findings) {
    match broken {
        Broken::Syntax { span, info } => {
            findings.report(&code::YAML_BROKEN, span, complaint::words(&info), complaint::HELP)
        }
        Broken::SecondDocument(span) => findings.report(
            &code::YAML_BROKEN,
            span,
            "a second document begins here",
            "a study is one document: take this line and all that follows away",
        ),
        Broken::TooDeep(span) => findings.report(
            &code::YAML_TOO_DEEP,
            span,
            "entries are nested deeper here than a study can mean",
            "take the brackets away that are too many",
        ),
        Broken::TooMany(span) => findings.report(
            &code::YAML_TOO_DEEP,
            span,
            "up to here the file has more entries, or repeats more through aliases, than a study can mean",
            "move long lists into a table, and write entries out instead of repeating them by & and *",
        ),
        Broken::LongName(span) => findings.report(
            &code::YAML_TOO_DEEP,
            span,
            "the name of an entry is longer here than any can be",
            "give the entry a short name; a text of this length is a value and stands behind a colon",
        ),
    }
}

fn report_value_error(error: &serde_yaml::Error, file: FileId, findings: &Findings) {
    let span = error.location().map_or(Span::File(file), |at| Span::Text {
        file,
        line: at.line() as u32,
        column: at.column() as u32,
        length: 1,
    });
    let message = error.to_string();
    if message.contains("repetition limit") || message.contains("recursion limit") {
        findings.report(
            &code::YAML_TOO_DEEP,
            span,
            "the file repeats itself through aliases beyond what a study can mean",
            "write the entries out instead of using & and *",
        );
    } else {
        findings.report(
            &code::YAML_BROKEN,
            span,
            format!("the file cannot be read as YAML: {message}"),
            "see the example in the handbook, page file-formats",
        );
    }
}
