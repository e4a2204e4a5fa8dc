//! A document that was not written as YAML: values put together one by one, each with its place.

use super::document::Document;
use super::spans::{Spans, Spot, join};
use crate::diagnose::{FileId, Span};
use serde_yaml::{Mapping, Value};

/// The values so far.
#[derive(Default)]
pub struct Tree {
    top: Mapping,
    spans: Spans,
}

/// Where an entry lies in the tree.
pub struct At {
    top: String,
    entry: Step,
    path: String,
}

enum Step {
    Key(String),
    Index(usize),
}

impl Tree {
    /// Begins a group of entries, under names or in their order.
    pub fn begin(&mut self, top: &str, span: Span, named: bool) {
        let empty = if named { Value::Mapping(Mapping::new()) } else { Value::Sequence(Vec::new()) };
        self.top.insert(Value::String(top.to_owned()), empty);
        self.spot(join("", top), None, span, None);
    }

    /// Puts a value under one name, or under a name within another; the error is the place of one that is there.
    pub fn insert(&mut self, path: &[&str], key: Span, span: Span, value: Value) -> Result<At, Span> {
        let (top, sub) = match path {
            [top, sub, ..] => (*top, Some(*sub)),
            [top] => (*top, None),
            [] => ("", None),
        };
        let full = path.iter().fold(String::new(), |path, name| join(&path, name));
        if let Some(there) = self.spans.own(&full) {
            return Err(there.key.unwrap_or(there.value));
        }
        let text = value.as_str().map(str::to_owned);
        match sub {
            None => drop(self.top.insert(Value::String(top.to_owned()), value)),
            Some(sub) => {
                let slot = self.top.entry(Value::String(top.to_owned()));
                if let Value::Mapping(group) = slot.or_insert_with(|| Value::Mapping(Mapping::new())) {
                    group.insert(Value::String(sub.to_owned()), value);
                }
                if self.spans.own(&join("", top)).is_none() {
                    self.spot(join("", top), None, Span::File(span.file()), None);
                }
            }
        }
        self.spot(full.clone(), Some(key), span, text);
        Ok(At { top: top.to_owned(), entry: Step::Key(sub.unwrap_or("").to_owned()), path: full })
    }

    /// Adds an entry to a list that was begun.
    pub fn push(&mut self, top: &str, span: Span) -> At {
        let mut index = 0;
        if let Some(Value::Sequence(list)) = self.top.get_mut(top) {
            index = list.len();
            list.push(Value::Mapping(Mapping::new()));
        }
        let path = format!("{}[{index}]", join("", top));
        self.spot(path.clone(), None, span, None);
        At { top: top.to_owned(), entry: Step::Index(index), path }
    }

    /// Sets a value of an entry.
    pub fn set(&mut self, at: &At, name: &str, key: Span, span: Span, value: Value) {
        let text = value.as_str().map(str::to_owned);
        let entry = self.top.get_mut(at.top.as_str()).and_then(|group| match &at.entry {
            Step::Key(key) => group.get_mut(key.as_str()),
            Step::Index(index) => group.get_mut(*index),
        });
        if let Some(Value::Mapping(entry)) = entry {
            entry.insert(Value::String(name.to_owned()), value);
            self.spot(join(&at.path, name), Some(key), span, text);
        }
    }

    fn spot(&mut self, path: String, key: Option<Span>, value: Span, text: Option<String>) {
        self.spans.put(path, Spot { key, value, text });
    }

    /// The document, as if it had been read from `file`.
    pub fn document(self, file: FileId) -> Document {
        Document::of(Value::Mapping(self.top), self.spans, file)
    }
}
