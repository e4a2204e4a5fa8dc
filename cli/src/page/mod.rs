//! The neutral model of a page: sections of paragraphs, outlines, tables and excerpts, without a word about how any
//! medium shows them. Every writer writes this model.

pub(crate) mod figure;
pub(crate) mod number;
pub(crate) mod terminal;
mod text;

pub(crate) use text::{Text, Tone, short};

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
    /// A line quoted from one of the user's files.
    Excerpt(Excerpt),
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
        Section { heading: heading.into(), blocks: Vec::new() }
    }
}

impl Line {
    /// A line at `depth`.
    pub(crate) fn at(depth: usize, text: impl Into<Text>) -> Self {
        Line { depth, text: text.into() }
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
