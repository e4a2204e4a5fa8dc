//! The place of every key and value, by path.

use super::complaint;
use crate::diagnose::{FileId, Span};
use saphyr_parser::{Event, Parser, ScanError};
use std::collections::HashMap;

/// Deepest nesting that a study can mean.
const DEEPEST: usize = 64;
/// Most entries that a study can mean, those that aliases repeat included: fifty thousand groups have half of it.
const MOST_ENTRIES: usize = 500_000;
/// Longest name that an entry can have, in bytes.
const LONGEST_NAME: usize = 1_024;
/// Most bytes of all paths together: long names deep within one another would take all memory.
const MOST_PATH_BYTES: usize = 64 << 20;
/// Most names standing twice that are told.
const MOST_DUPLICATES: usize = 50;

/// What is known of one value.
#[derive(Debug)]
pub struct Spot {
    /// Its key, where it is the value of a mapping's entry.
    pub key: Option<Span>,
    /// Itself.
    pub value: Span,
    /// The text of a scalar as written, without quotes.
    pub text: Option<String>,
}

/// Places by path: `limits[0].value`.
#[derive(Debug, Default)]
pub struct Spans {
    spots: HashMap<String, Spot>,
    /// Keys that stand twice in one mapping: path, first place, second place.
    pub duplicates: Vec<(String, Span, Span)>,
    /// Entries so far, those that aliases repeat included, and the bytes of their paths.
    entries: usize,
    path_bytes: usize,
}

/// Why no index could be made.
#[derive(Debug)]
pub enum Broken {
    /// The text is no YAML from here on.
    Syntax {
        /// Where.
        span: Span,
        /// What the parser says.
        info: String,
    },
    /// It is nested too deep.
    TooDeep(Span),
    /// It has more entries than a study can mean; they may come of aliases.
    TooMany(Span),
    /// The name of an entry is too long to be one.
    LongName(Span),
    /// A second document begins.
    SecondDocument(Span),
}

enum Frame {
    Map { path: String, key: Option<(String, Span)> },
    Seq { path: String, next: usize },
}

/// Entries below each anchor, itself included, and the anchors that have not ended.
#[derive(Default)]
struct Anchors {
    sizes: HashMap<usize, usize>,
    open: Vec<(usize, usize)>,
}

impl Spans {
    /// Indexes the first document of a text.
    pub fn of(text: &str, file: FileId) -> Result<Spans, Broken> {
        let mut index = Spans::default();
        let mut stack: Vec<Frame> = Vec::new();
        let mut anchors = Anchors::default();
        let mut ended = false;
        for event in Parser::new_from_str(text) {
            let (event, at) = event.map_err(|e| syntax(&e, text, file))?;
            let span = text_span(file, &at);
            match event {
                Event::Scalar(value, ..) => {
                    index.count(1, &stack, span)?;
                    index.scalar(&mut stack, value.into_owned(), span)?;
                }
                Event::Alias(anchor) => {
                    index.count(anchors.sizes.get(&anchor).copied().unwrap_or(1), &stack, span)?;
                    index.value(&mut stack, span, None);
                }
                Event::MappingStart(anchor, _) | Event::SequenceStart(anchor, _) => {
                    if stack.len() >= DEEPEST {
                        return Err(Broken::TooDeep(span));
                    }
                    anchors.open.push((anchor, index.entries));
                    index.count(1, &stack, span)?;
                    let path = index.value_path(&mut stack, span, None);
                    stack.push(match event {
                        Event::MappingStart(..) => Frame::Map { path, key: None },
                        _ => Frame::Seq { path, next: 0 },
                    });
                }
                Event::MappingEnd | Event::SequenceEnd => {
                    stack.pop();
                    if let Some((anchor, before)) = anchors.open.pop() {
                        anchors.sizes.insert(anchor, index.entries - before);
                    }
                }
                Event::DocumentStart(true) if ended => return Err(Broken::SecondDocument(span)),
                Event::DocumentEnd => ended = true,
                _ => {}
            }
        }
        Ok(index)
    }

    /// Counts entries where the stack has come to, before anything is kept of them.
    fn count(&mut self, entries: usize, stack: &[Frame], span: Span) -> Result<(), Broken> {
        let path = match stack.last() {
            Some(Frame::Map { path, key }) => path.len() + key.as_ref().map_or(0, |(name, _)| name.len()),
            Some(Frame::Seq { path, .. }) => path.len(),
            None => 0,
        };
        self.entries += entries;
        self.path_bytes += entries * path;
        match self.entries > MOST_ENTRIES || self.path_bytes > MOST_PATH_BYTES {
            true => Err(Broken::TooMany(span)),
            false => Ok(()),
        }
    }

    fn scalar(&mut self, stack: &mut [Frame], text: String, span: Span) -> Result<(), Broken> {
        if let Some(Frame::Map { path, key: key @ None }) = stack.last_mut() {
            if text.len() > LONGEST_NAME {
                return Err(Broken::LongName(span));
            }
            let full = join(path, &text);
            let inside_another =
                self.duplicates.iter().any(|(path, ..)| full.starts_with(&format!("{path}\u{1}")));
            let told = inside_another || self.duplicates.len() >= MOST_DUPLICATES;
            if let Some(first) = self.spots.get(&full).filter(|_| !told) {
                self.duplicates.push((full, first.key.unwrap_or(first.value), span));
            }
            *key = Some((text, span));
        } else {
            self.value(stack, span, Some(text));
        }
        Ok(())
    }

    fn value(&mut self, stack: &mut [Frame], span: Span, text: Option<String>) {
        self.value_path(stack, span, text);
    }

    fn value_path(&mut self, stack: &mut [Frame], value: Span, text: Option<String>) -> String {
        let (path, key) = match stack.last_mut() {
            None => (String::new(), None),
            Some(Frame::Map { path, key }) => {
                let (name, span) = key.take().unwrap_or((String::new(), value));
                (join(path, &name), Some(span))
            }
            Some(Frame::Seq { path, next }) => {
                *next += 1;
                (format!("{path}[{}]", *next - 1), None)
            }
        };
        self.spots.entry(path.clone()).or_insert(Spot { key, value, text });
        path
    }

    /// What is known of the value at `path`; inside an alias, of the alias itself.
    pub fn at(&self, path: &str) -> Option<&Spot> {
        let mut path = path;
        loop {
            if let Some(spot) = self.spots.get(path) {
                return Some(spot);
            }
            path = &path[..path.rfind(['\u{1}', '['])?];
        }
    }

    /// What is known of the value at exactly `path`.
    pub fn own(&self, path: &str) -> Option<&Spot> {
        self.spots.get(path)
    }

    /// Tells where a value stands.
    pub fn put(&mut self, path: String, spot: Spot) {
        self.spots.insert(path, spot);
    }

    /// The text of the scalar at exactly `path`.
    pub fn text(&self, path: &str) -> Option<&str> {
        self.spots.get(path)?.text.as_deref()
    }
}

/// Path of an entry; the separator cannot stand in a key that a person types.
pub fn join(path: &str, key: &str) -> String {
    format!("{path}\u{1}{key}")
}

fn text_span(file: FileId, at: &saphyr_parser::Span) -> Span {
    let length = if at.start.line() == at.end.line() { at.end.index() - at.start.index() } else { 1 };
    Span::Text {
        file,
        line: at.start.line() as u32,
        column: at.start.col() as u32 + 1,
        length: length.max(1) as u32,
    }
}

fn syntax(error: &ScanError, text: &str, file: FileId) -> Broken {
    let span = complaint::span(error, text, file);
    if error.info().contains("recursion limit") {
        return Broken::TooDeep(span);
    }
    Broken::Syntax { span, info: error.info().to_owned() }
}
