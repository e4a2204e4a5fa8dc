//! A page as text for a terminal or a pipe. Colour is written as escape sequences, which the border takes out where
//! nobody sees them.

mod excerpt;
mod paint;
mod table;
mod wrap;

use super::{Block, Line, Page, Point, Section, Text};
use paint::{paint, strong};
use std::fmt::Write;
use wrap::wrapped;

/// The page at `width` columns.
pub(crate) fn page(page: &Page, width: usize) -> String {
    let sections: Vec<String> = page.sections.iter().map(|s| section(s, width)).collect();
    sections.join("\n")
}

fn section(section: &Section, width: usize) -> String {
    let mut text = String::new();
    if !section.heading.is_empty() {
        lines(&mut text, 0, wrapped(&strong(&section.heading), width));
    }
    for piece in &section.blocks {
        block(&mut text, piece, width);
    }
    text
}

fn block(text: &mut String, block: &Block, width: usize) {
    match block {
        Block::Paragraph(words) => lines(text, 0, wrapped(words, width)),
        Block::Outline(outline) => outline.iter().for_each(|line| outline_line(text, line, width)),
        Block::Table(table) => text.push_str(&table::table(table, width)),
        Block::List(points) => points.iter().for_each(|point| outline_line(text, &line_of(point), width)),
        Block::Drawing(drawing) => lines(text, 0, wrapped(&drawing.thing.description.as_str().into(), width)),
        Block::Verbatim(words) => words.lines().for_each(|line| lines(text, 2, vec![line.into()])),
        Block::Excerpt(quoted) => text.push_str(&excerpt::excerpt(quoted, width)),
    }
}

/// A point of a list as a line.
fn line_of(point: &Point) -> Line {
    let mark = point.number.map_or("-".to_owned(), |number| format!("{number}."));
    Line::at(point.depth, Text::from(format!("{mark} ")).append(point.text.clone()))
}

/// A line of an outline; what does not fit hangs two columns deeper.
fn outline_line(text: &mut String, line: &Line, width: usize) {
    let indent = 2 * line.depth;
    let mut rows = wrapped(&line.text, width.saturating_sub(indent + 2).max(20)).into_iter();
    lines(text, indent, rows.next().into_iter().collect());
    lines(text, indent + 2, rows.collect());
}

fn lines(text: &mut String, indent: usize, lines: Vec<super::Text>) {
    for line in lines {
        let _ = writeln!(text, "{:indent$}{}", "", paint(&line));
    }
}

#[cfg(test)]
mod tests {
    use super::super::Tone;
    use super::*;

    fn plain(painted: &str) -> String {
        anstream::adapter::strip_str(painted).to_string()
    }

    #[test]
    fn sections_are_parted_by_an_empty_line() {
        let sections = ["One", "Two"].map(|heading| {
            let mut section = Section::headed(heading);
            section.blocks.push(Block::Paragraph("words".into()));
            section
        });
        let shown = plain(&page(&Page { sections: sections.into() }, 80));
        assert_eq!(shown, "One\nwords\n\nTwo\nwords\n");
    }

    #[test]
    fn a_long_line_of_an_outline_hangs_under_itself() {
        let mut section = Section::default();
        section.blocks.push(Block::Outline(vec![Line::at(1, "seven words that are too many here")]));
        assert_eq!(
            plain(&page(&Page { sections: vec![section] }, 26)),
            "  seven words that are\n    too many here\n"
        );
    }

    #[test]
    fn every_tone_reads_the_same_without_colour() {
        for tone in [Tone::Plain, Tone::Strong, Tone::Quiet, Tone::Below, Tone::Above, Tone::Open] {
            let mut section = Section::default();
            section.blocks.push(Block::Paragraph(Text::of(tone, "above the limit")));
            assert_eq!(plain(&page(&Page { sections: vec![section] }, 80)), "above the limit\n");
        }
    }
}
