//! A value with its place, and the questions a study asks of it. A wrong answer becomes a finding and `None`.

use super::document::Document;
use super::spans::join;
use crate::diagnose::nearest;
use crate::diagnose::{Findings, Span, code};
use crate::read::fields::Field;
use crate::read::number::{Comma, NotANumber, number};
use crate::read::quantity::{self, Kind, NoQuantity};
use serde_yaml::Value;

/// Most settings that do not belong into a mapping and are told one by one.
const MOST_UNKNOWN: usize = 50;

/// A value somewhere in the document.
#[derive(Clone)]
pub struct Node<'a> {
    pub(super) document: &'a Document,
    pub(super) value: &'a Value,
    pub(super) path: String,
}

/// A mapping whose keys have been checked.
pub struct Map<'a> {
    node: Node<'a>,
    entries: Vec<(String, Node<'a>)>,
    /// Keys that a misspelt one was probably meant for: not to be missed a second time.
    meant: Vec<String>,
}

impl<'a> Node<'a> {
    /// Its place.
    pub fn span(&self) -> Span {
        self.document.spans.at(&self.path).map_or(Span::File(self.document.file), |s| s.value)
    }

    /// The place of its key, or its own where it has none.
    pub fn key_span(&self) -> Span {
        self.document
            .spans
            .at(&self.path)
            .map_or(Span::File(self.document.file), |s| s.key.unwrap_or(s.value))
    }

    /// Whether nothing stands here.
    pub fn is_null(&self) -> bool {
        self.value.is_null()
    }

    /// Whether it is a group of named entries, or nothing.
    pub fn is_mapping_like(&self) -> bool {
        self.value.is_null() || self.value.is_mapping()
    }

    /// Whether it is a group of named entries; a finding where it is not.
    pub fn is_mapping(&self, findings: &Findings) -> bool {
        if !self.value.is_mapping() {
            self.entries(findings);
        }
        self.value.is_mapping()
    }

    /// The members of a list, or none.
    pub fn members(&self) -> Vec<Node<'a>> {
        let Value::Sequence(items) = self.value else { return Vec::new() };
        let member =
            |(i, value)| Node { document: self.document, value, path: format!("{}[{i}]", self.path) };
        items.iter().enumerate().map(member).collect()
    }

    /// The entries of a mapping by their names, or none.
    pub fn pairs(&self) -> Vec<(String, Node<'a>)> {
        let Value::Mapping(mapping) = self.value else { return Vec::new() };
        let entry = |(key, value): (&Value, &'a Value)| {
            let name = key_text(key);
            let path = join(&self.path, &name);
            (name, Node { document: self.document, value, path })
        };
        mapping.iter().map(entry).collect()
    }

    /// The value in brackets and quotes on one line.
    pub fn as_flow(&self) -> String {
        serde_json::to_string(self.value).unwrap_or_default()
    }

    /// The text of a scalar as written.
    pub fn scalar(&self) -> Option<String> {
        let text = match self.value {
            Value::Bool(b) => b.to_string(),
            Value::Number(n) => n.to_string(),
            Value::String(s) => s.clone(),
            _ => return None,
        };
        Some(self.document.spans.text(&self.path).map_or(text, str::to_owned))
    }

    fn wrong_kind(&self, wanted: &str, help: &str, findings: &Findings) {
        let found = match self.value {
            Value::Null => "nothing stands here",
            Value::Mapping(_) => "a group of entries stands here",
            Value::Sequence(_) => "a list stands here",
            _ => "a single value stands here",
        };
        findings.report(&code::WRONG_KIND, self.key_span(), format!("{found}; {wanted} is needed"), help);
    }

    /// A text.
    pub fn text(&self, findings: &Findings) -> Option<String> {
        match self.scalar() {
            Some(text) if !text.trim().is_empty() => Some(text.trim().to_owned()),
            _ => {
                self.wrong_kind("a text", "write a word or a sentence", findings);
                None
            }
        }
    }

    /// A number without a unit.
    pub fn number(&self, findings: &Findings) -> Option<f64> {
        let text = self.text(findings)?;
        let read = number(&text, Comma::Doubtful).map_err(|wrong| match wrong {
            NotANumber::AmbiguousComma => NoQuantity::AmbiguousComma(text.clone()),
            _ => NoQuantity::Unreadable(format!("`{text}` is not a number")),
        });
        self.or_bad(read, "write digits only, as 12 or 0.5", findings)
    }

    /// A quantity of a kind, in the engine's unit.
    pub fn quantity(&self, kind: &Kind, findings: &Findings) -> Option<f64> {
        let text = self.text(findings)?;
        self.or_bad_quantity(quantity::quantity_text(&text, kind, Comma::Doubtful), kind.examples, findings)
    }

    /// A concentration.
    pub fn concentration(&self, findings: &Findings) -> Option<crate::model::Amount> {
        let text = self.text(findings)?;
        self.or_bad_quantity(quantity::concentration(&text), quantity::CONCENTRATION_EXAMPLES, findings)
    }

    /// Reports a reader's complaint with examples of what would do.
    pub fn or_bad_quantity<T>(
        &self,
        read: Result<T, NoQuantity>,
        examples: &str,
        findings: &Findings,
    ) -> Option<T> {
        self.or_bad(read, &format!("write it as {examples}"), findings)
    }

    fn or_bad<T>(&self, read: Result<T, NoQuantity>, help: &str, findings: &Findings) -> Option<T> {
        read.map_err(|wrong| wrong.report(self.span(), help, findings)).ok()
    }

    /// One of a few words.
    pub fn choice<T: Copy>(&self, words: &[(&str, T)], findings: &Findings) -> Option<T> {
        let text = self.text(findings)?;
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value);
        if found.is_none() {
            let help = nearest(&text, words.iter().map(|(word, _)| *word));
            findings.report(&code::BAD_CHOICE, self.span(), format!("`{text}` is not possible here"), help);
        }
        found
    }

    /// Whether it is a list.
    pub fn is_list(&self) -> bool {
        self.value.is_sequence()
    }

    /// The members of a list.
    pub fn list(&self, findings: &Findings) -> Vec<Node<'a>> {
        match self.value {
            Value::Sequence(_) => self.members(),
            _ => {
                self.wrong_kind(
                    "a list",
                    "write it in brackets, as [a, b], or one a line behind dashes",
                    findings,
                );
                Vec::new()
            }
        }
    }

    /// The entries of a mapping whose names the user chooses.
    pub fn entries(&self, findings: &Findings) -> Vec<(String, Node<'a>)> {
        match self.value {
            Value::Mapping(_) => self.pairs(),
            _ => {
                self.wrong_kind("a group of named entries", "write `name: value` or {name: value}", findings);
                Vec::new()
            }
        }
    }

    /// A mapping with these possible settings; unknown ones become findings. `{}` and nothing at all are the same.
    pub fn map(&self, fields: &[Field], findings: &Findings) -> Map<'a> {
        let keys = || fields.iter().map(|field| field.name);
        let entries = if self.is_null() { Vec::new() } else { self.entries(findings) };
        let mut meant = Vec::new();
        let unknown = || entries.iter().filter(|(name, _)| !keys().any(|key| key == name));
        for (name, node) in unknown().take(MOST_UNKNOWN) {
            let help = nearest(name, keys());
            meant.extend(keys().filter(|key| help == format!("did you mean `{key}`?")).map(str::to_owned));
            let message = format!("`{name}` is not a setting that belongs here");
            findings.report(&code::UNKNOWN_KEY, node.key_span(), message, help);
        }
        if let Some((_, node)) = unknown().nth(MOST_UNKNOWN) {
            let message = format!("{} more entries do not belong here", unknown().count() - MOST_UNKNOWN);
            let help = "put those before it right first; perhaps this is another file";
            findings.report(&code::UNKNOWN_KEY, node.key_span(), message, help);
        }
        Map { node: self.clone(), entries, meant }
    }
}

impl<'a> Map<'a> {
    /// The place of the mapping's own key.
    pub fn span(&self) -> Span {
        self.node.key_span()
    }

    /// The entry called `key`, if it is there and not empty.
    pub fn get(&self, key: &str) -> Option<Node<'a>> {
        self.entries.iter().find(|(name, node)| name == key && !node.is_null()).map(|(_, node)| node.clone())
    }

    /// The entry called `key`, or a finding that it is missing.
    pub fn need(&self, key: &str, example: &str, findings: &Findings) -> Option<Node<'a>> {
        let found = self.get(key);
        if found.is_none() && !self.meant.iter().any(|meant| meant == key) {
            let span = match self.entries.iter().find(|(name, _)| name == key) {
                Some((_, empty)) => empty.key_span(),
                None if self.node.path.is_empty() => Span::File(self.node.document.file),
                None => self.node.key_span(),
            };
            let help = format!("add, for example, `{example}`");
            findings.report(&code::MISSING_KEY, span, format!("`{key}` is missing"), help);
        }
        found
    }
}

fn key_text(key: &Value) -> String {
    match key {
        Value::String(s) => s.clone(),
        Value::Number(n) => n.to_string(),
        Value::Bool(b) => b.to_string(),
        other => serde_yaml::to_string(other).unwrap_or_default().trim().to_owned(),
    }
}
