//! A value with its place, and the questions a study asks of it. A wrong answer becomes a finding and `None`.

use super::document::Document;
use super::spans::join;
use crate::diagnose::nearest;
use crate::diagnose::{Findings, Span, code};
use crate::read::fields::Field;
use crate::read::number::{Comma, NotANumber, number};
use crate::read::quantity::{self, Kind, NoQuantity};
use serde_yaml::Value;

/// What to do about a comma that was meant to part decimals.
const IN_BRACKETS: &str =
    "in brackets and braces a comma parts entries: write decimals with a point, as 20.5";

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

    /// The numbers of a list, none where one is at fault: also where some commas have a blank behind them and others none, since those
    /// may part decimals.
    pub fn numbers(&self, findings: &Findings) -> Option<Vec<f64>> {
        let list = self.list(findings);
        let followed = |pair: &[Node]| match (pair[0].span(), pair[1].span()) {
            (Span::Text { line, column, length, .. }, Span::Text { line: next, column: at, .. }) => {
                (line == next).then(|| at > column + length + 1)
            }
            _ => None,
        };
        let commas: Vec<Option<bool>> = list.windows(2).map(followed).collect();
        let tight = commas.iter().position(|comma| *comma == Some(false));
        if let Some(at) = tight.filter(|_| commas.contains(&Some(true))) {
            let [before, after] = [0, 1].map(|further| list[at + further].scalar().unwrap_or_default());
            let message = format!("the comma in `{before},{after}` may part decimals or entries");
            let help = format!("{IN_BRACKETS}; put a blank behind every comma");
            findings.report(&code::AMBIGUOUS_NUMBER, list[at].span(), message, help);
            return None;
        }
        let numbers: Vec<f64> = list.iter().filter_map(|node| node.number(findings)).collect();
        (!list.is_empty() && numbers.len() == list.len()).then_some(numbers)
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
        self.whole_entries(findings).0
    }

    /// The entries of a mapping, and the names of those left out because a decimal comma tore them in two.
    fn whole_entries(&self, findings: &Findings) -> (Vec<(String, Node<'a>)>, Vec<String>) {
        if !self.value.is_mapping() {
            self.wrong_kind("a group of named entries", "write `name: value` or {name: value}", findings);
        }
        let (mut whole, mut torn): (Vec<(String, Node<'a>)>, _) = (Vec::new(), Vec::new());
        for (name, node) in self.pairs() {
            let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
            let before = whole.last().and_then(|(_, before)| before.scalar()).filter(|text| digits(text));
            match before.filter(|_| node.is_null() && name.starts_with(|c: char| c.is_ascii_digit())) {
                Some(number) => {
                    let message = format!("the comma in `{number},{name}` parts two entries");
                    findings.report(&code::BAD_QUANTITY, node.key_span(), message, IN_BRACKETS);
                    torn.extend(whole.pop().map(|(name, _)| name));
                }
                None => whole.push((name, node)),
            }
        }
        (whole, torn)
    }

    /// A mapping with these possible settings; unknown ones become findings. `{}` and nothing at all are the same.
    pub fn map(&self, fields: &[Field], findings: &Findings) -> Map<'a> {
        let keys = || fields.iter().map(|field| field.name);
        let (entries, mut meant) = match self.is_null() {
            true => (Vec::new(), Vec::new()),
            false => self.whole_entries(findings),
        };
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
