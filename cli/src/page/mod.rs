//! The neutral model of a page: sections of paragraphs, outlines, lists, tables, drawings and excerpts, without a word
//! about how any medium shows them. Every writer writes this model.

mod document;
pub(crate) mod docx;
pub(crate) mod figure;
mod finish;
pub(crate) mod html;
pub(crate) mod markdown;
pub(crate) mod number;
pub(crate) mod terminal;
mod text;

pub(crate) use document::{Document, Head};
pub(crate) use finish::{Labels, WORKING, finished};
pub(crate) use text::{Link, Stretch, Text, Tone, harmless, is_right_to_left, short, with_typed};

use crate::figures::Drawing;

/// A page.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct Page {
    /// Its sections, in order.
    pub(crate) sections: Vec<Section>,
}

/// A part of a page under one heading.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct Section {
    /// The heading; empty where the section needs none.
    pub(crate) heading: Text,
    /// How deep it stands, from 0.
    pub(crate) depth: usize,
    /// The name by which links find it; empty where none does.
    pub(crate) place: String,
    /// What it holds, in order.
    pub(crate) blocks: Vec<Block>,
}

/// A piece of a section.
#[derive(Debug, PartialEq)]
pub(crate) enum Block {
    /// Running text.
    Paragraph(Text),
    /// Lines that belong under each other.
    Outline(Vec<Line>),
    /// A table.
    Table(Table),
    /// Points of a list.
    List(Vec<Point>),
    /// A drawing with its caption.
    Drawing(Captioned<Drawing>),
    /// Text that keeps its line breaks.
    Verbatim(String),
    /// A line quoted from one of the user's files.
    Excerpt(Excerpt),
}

/// A point of a list.
#[derive(Debug, PartialEq)]
pub(crate) struct Point {
    /// How deep it stands, from 0.
    pub(crate) depth: usize,
    /// Its number; `None` where the list has none.
    pub(crate) number: Option<u64>,
    /// What it says.
    pub(crate) text: Text,
}

/// Something with a caption under which the text refers to it.
#[derive(Debug, PartialEq)]
pub(crate) struct Captioned<T> {
    /// The name by which the text refers to it.
    pub(crate) key: String,
    /// `Table 3`, once the page is finished.
    pub(crate) label: String,
    /// The caption.
    pub(crate) caption: Text,
    /// The thing itself.
    pub(crate) thing: T,
}

/// A line of an outline.
#[derive(Debug, PartialEq)]
pub(crate) struct Line {
    /// How deep it stands, from 0.
    pub(crate) depth: usize,
    /// What it says.
    pub(crate) text: Text,
}

/// A table.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct Table {
    /// Its caption, where it has one.
    pub(crate) caption: Option<Captioned<()>>,
    /// Its columns.
    pub(crate) columns: Vec<Column>,
    /// Its rows, a cell a column.
    pub(crate) rows: Vec<Vec<Text>>,
}

/// A column of a table.
#[derive(Debug, PartialEq)]
pub(crate) struct Column {
    /// Its heading.
    pub(crate) head: String,
    /// To which side its cells are set.
    pub(crate) side: Side,
}

/// To which side the cells of a column are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A quoted line with the characters in question.
#[derive(Debug, PartialEq)]
pub(crate) struct Excerpt {
    /// Number of the line in its file.
    pub(crate) line: u32,
    /// The line, or the part of it around the place.
    pub(crate) text: String,
    /// Whether something of the line is left out before `text`.
    pub(crate) cut: bool,
    /// The first character in question, from 0, and how many there are; `None` where the whole line is meant.
    pub(crate) marked: Option<(usize, usize)>,
}

impl Section {
    /// A section without content yet.
    pub(crate) fn headed(heading: impl Into<Text>) -> Self {
        Section { heading: heading.into(), ..Section::default() }
    }

    /// A section at `depth` that links find at `place`.
    pub(crate) fn placed(depth: usize, place: impl Into<String>, heading: impl Into<Text>) -> Self {
        Section { heading: heading.into(), depth, place: place.into(), blocks: Vec::new() }
    }

    /// Adds running text.
    pub(crate) fn say(&mut self, text: impl Into<Text>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }
}

impl Line {
    /// A line at `depth`.
    pub(crate) fn at(depth: usize, text: impl Into<Text>) -> Self {
        Line { depth, text: text.into() }
    }
}

impl<T> Captioned<T> {
    /// A thing with its caption, to be referred to by `key`.
    pub(crate) fn new(key: impl Into<String>, caption: impl Into<Text>, thing: T) -> Self {
        Captioned { key: key.into(), label: String::new(), caption: caption.into(), thing }
    }
}

impl Table {
    /// A table without a caption.
    pub(crate) fn of(columns: Vec<Column>, rows: Vec<Vec<Text>>) -> Self {
        Table { caption: None, columns, rows }
    }

    /// The same with a caption, to be referred to by `key`.
    pub(crate) fn captioned(self, key: impl Into<String>, caption: impl Into<Text>) -> Self {
        Table { caption: Some(Captioned::new(key, caption, ())), ..self }
    }
}

impl Column {
    /// A column of words.
    pub(crate) fn words(head: impl Into<String>) -> Self {
        Column { head: head.into(), side: Side::Left }
    }

    /// A column of numbers.
    pub(crate) fn numbers(head: impl Into<String>) -> Self {
        Column { head: head.into(), side: Side::Right }
    }
}
